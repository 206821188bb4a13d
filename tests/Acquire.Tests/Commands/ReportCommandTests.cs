using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Acquire.Bench.Files;
using Acquire.Rendering.Report;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

[Trait("speed", "slow")]
public sealed class ReportCommandTests : IDisposable
{
    private static readonly XNamespace Html = "http://www.w3.org/1999/xhtml";
    private readonly InMemory _program = new() { Time = new FakeTimeProvider(DarkroomSeason.After) };

    private string Page => Path.Combine(_program.Folder, "report.html");

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Every_strip_of_the_period_is_in_the_appendix_and_no_other()
    {
        var strips = await FillAsync();
        var page = await ReportAsync("--since", "2026-02-01", "--until", "2026-02-28");
        var expected = strips.Where(s => s.Provenance.At.Month == 2).Select(s => $"strip-{s.Id:N}").ToList();
        var rows = page.Descendants(Html + "tr").Where(r => r.Attribute("id") is not null).ToList();
        Assert.Equal(9, expected.Count);
        Assert.Equal(expected, rows.Select(r => r.Attribute("id")!.Value));
        Assert.All(rows, r => Assert.Matches(@"R [+-]?0\.\d{3} ±0\.\d{3}", r.Value));
    }

    [Fact]
    public async Task Appendix_agrees_with_the_strip_itself()
    {
        var strips = await FillAsync();
        var page = await ReportAsync();
        var shown = (await _program.JsonAsync("strip", "show", strips[^1].Id.ToString())).GetProperty("parameters").EnumerateArray()
            .Single(p => p.GetProperty("key").GetString() == "ld" && p.GetProperty("channel").GetString() == "red");
        var row = page.Descendants(Html + "tr").Single(r => r.Attribute("id")?.Value == $"strip-{strips[^1].Id:N}");
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"R {shown.GetProperty("deviation").GetDouble():+0.000;-0.000} "
            + $"±{shown.GetProperty("uncertainty").GetDouble():0.000}"), row.Value, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Page_is_whole_without_scripts_or_requests()
    {
        await FillAsync();
        var page = await ReportAsync();
        var text = await File.ReadAllTextAsync(Page, TestContext.Current.CancellationToken);
        var namespaces = text.Replace("http://www.w3.org/1999/xhtml", "", StringComparison.Ordinal).Replace(
            "http://www.w3.org/2000/svg", "", StringComparison.Ordinal);
        Assert.DoesNotMatch(@"(?i)http|<script|@import|url\(|javascript:|<link|<img|<iframe|\son\w+=", namespaces);
        Assert.All(
            page.Descendants().Attributes("href").Concat(page.Descendants().Attributes("src")),
            a => Assert.StartsWith("#", a.Value, StringComparison.Ordinal));
        var ids = page.Descendants().Attributes("id").Select(a => a.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(page.Descendants().Attributes("href"), a => Assert.Contains(a.Value[1..], ids));
    }

    [Fact]
    public async Task Page_can_be_read_aloud()
    {
        await FillAsync();
        var page = await ReportAsync();
        Assert.Equal("en", page.Root!.Attribute("lang")!.Value);
        Assert.Single(page.Descendants(Html + "h1"));
        Assert.All(page.Descendants(Html + "table"), t => Assert.NotEmpty(t.Element(Html + "caption")!.Value));
        Assert.All(page.Descendants(Html + "th"), t => Assert.Contains(t.Attribute("scope")!.Value, new[] { "col", "row" }));
        Assert.All(page.Descendants(Html + "tr"), r => Assert.NotEmpty(r.Elements(Html + "th")));
        var levels =
            page.Descendants().Where(e => Regex.IsMatch(e.Name.LocalName, "^h[1-6]$")).Select(e => e.Name.LocalName[1] - '0').ToList();
        Assert.All(levels.Zip(levels.Skip(1)), p => Assert.True(p.Second <= p.First + 1));
        // Colour is never the only sign: what is coloured says it in words, too.
        Assert.All(
            page.Descendants(Html + "td").Where(t => t.Attribute("class")?.Value is "look" or "stop"),
            t => Assert.Matches("action|out|undecided|NO", t.Value));
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror='y'> & </style></title>")]
    [InlineData("]]> <!-- \u0001 \ud83c\udf9e é")]
    public async Task Names_of_the_user_stay_text(string nasty)
    {
        var strips = ChartHistory.Strips(DarkroomSeason.Strips).Select(s => s with { Tags =
            new StripTags { Note = nasty, Bottle = s.Tags.Bottle == "D8" ? nasty : s.Tags.Bottle, Line = nasty } }).ToList();
        await DarkroomSeason.FillAsync(_program.Folder, strips, TestContext.Current.CancellationToken, mix: nasty, happened: nasty);
        var page = await ReportAsync("--line", nasty);
        var shown = nasty.Replace('\u0001', ' ');
        Assert.Contains(shown, page.Descendants(Html + "h1").Single().Value, StringComparison.Ordinal);
        Assert.Contains(page.Descendants(Html + "li"), l => l.Value.EndsWith($"repair: {shown}", StringComparison.Ordinal));
        Assert.DoesNotContain(page.Descendants(), e => e.Name.LocalName is "script" or "img");
        Assert.Equal(DarkroomSeason.Strips, page.Descendants(Html + "tr").Count(r => r.Attribute("id") is not null));
    }

    [Fact]
    public async Task State_says_no_when_a_control_limit_is_passed_and_orders_the_work()
    {
        var strips = await FillAsync();
        var page = await ReportAsync("--bottle", "D7");
        Assert.StartsWith("Yes", Verdict(page), StringComparison.Ordinal);
        Assert.Contains("no cause to look for", page.Root!.Value, StringComparison.Ordinal);

        await ReadAsync(Far(strips[^1], 0.2m));
        page = await ReportAsync();
        Assert.StartsWith("No: the process is out of control by ", Verdict(page), StringComparison.Ordinal);
        Assert.True(page.Descendants(Html + "ol").Single().Elements(Html + "li").Count() >= 4);
        Assert.Contains("goggles, gloves", page.Root!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_asked_for_is_the_one_that_the_state_rests_on()
    {
        var strips = await FillAsync();
        var page = await ReportAsync("--strip", StripId.ShortForm(strips[9].Id));
        Assert.Contains($"strip {StripId.ShortForm(strips[9].Id)}", page.Descendants(Html + "h1").Single().Value, StringComparison.Ordinal);
        Assert.Equal(strips.Take(10).Select(s => $"strip-{s.Id:N}"), page.Descendants(Html + "tr").Attributes("id").Select(a => a.Value));
    }

    [Theory]
    [InlineData(new[] { "--out", "report.txt" }, "ends with .html")]
    [InlineData(new[] { "--pdf", "report.html" }, "ends with .pdf")]
    [InlineData(new[] { "--paper", "foolscap" }, "expected a4 or letter")]
    [InlineData(new[] { "--until", "soon" }, "'soon' is no day")]
    [InlineData(new[] { "--bottle", "D99" }, "no such strip to report on")]
    [InlineData(new[] { "--strip", "ffff0000" }, "no strip ffff0000")]
    public async Task Wrong_use_says_what_was_expected_and_writes_nothing(string[] options, string said)
    {
        await FillAsync();
        var (code, output, error) =
            await _program.RunAsync(options.Contains("--out") ? ["report", .. options] : ["report", "--force", "--out", Page, .. options]);
        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
        Assert.False(File.Exists(Page));
    }

    [Fact]
    public async Task Empty_store_is_refused()
    {
        var (code, _, error) = await _program.RunAsync("report", "--out", Page);
        Assert.Equal(2, code);
        Assert.Contains("no such strip to report on", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Pdf_is_one_with_pages()
    {
        Assert.SkipUnless(new PdfPrinter(TimeProvider.System).Program is not null, "Needs a Chromium browser on the search path.");
        _program.Time = TimeProvider.System;
        await FillAsync();
        var pdf = Path.Combine(_program.Folder, "r.pdf");
        var (code, _, error) = await _program.RunAsync("report", "--out", Page, "--pdf", pdf, "--paper", "A4");
        Assert.True(code == 0, error);
        var bytes = Encoding.Latin1.GetString(await File.ReadAllBytesAsync(pdf, TestContext.Current.CancellationToken));
        // ISO 32000: the header, and a page tree that counts its pages.
        // A4 in points; the browser writes it rounded.
        Assert.Matches(@"/MediaBox\s*\[0 0 59[45]", bytes);
        Assert.StartsWith("%PDF-", bytes, StringComparison.Ordinal);
        Assert.True(Regex.Count(bytes, @"/Type\s*/Page\b(?!s)") > 0 || Regex.IsMatch(bytes, @"/Count\s+[1-9]"));
    }

    [Fact]
    public async Task Pdf_without_a_browser_says_so()
    {
        var printer = new PdfPrinter(TimeProvider.System, searchPath: _program.Folder);
        var fault = await Assert.ThrowsAsync<Bench.BenchException>(() => printer.PrintAsync(
            Page, WholeFile.At(Path.ChangeExtension(Page, "pdf"), replace: false), TestContext.Current.CancellationToken));
        Assert.Contains("no Chromium browser on the search path", fault.Message, StringComparison.Ordinal);
        Assert.Contains($"{Page} is written", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Browser_that_makes_no_pdf_is_told()
    {
        var browser = Path.Combine(_program.Folder, "chromium");
        await File.WriteAllTextAsync(browser, "#!/bin/sh\necho no display >&2\nexit 0\n", TestContext.Current.CancellationToken);
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Needs a shell script as the browser.");
            return;
        }

        File.SetUnixFileMode(browser, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        var pdf = Path.ChangeExtension(Page, "pdf");
        var fault = await Assert.ThrowsAsync<Bench.BenchException>(
            () => new PdfPrinter(TimeProvider.System, _program.Folder).PrintAsync(
                Page, WholeFile.At(pdf, replace: false), TestContext.Current.CancellationToken));
        Assert.Contains("made none. It said: no display", fault.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(pdf));
    }

    private static string Verdict(XDocument page) =>
        page.Descendants(Html + "p").Single(p => p.Attribute("class")?.Value.StartsWith("verdict", StringComparison.Ordinal) == true).Value;

    private static StripRecord Far(StripRecord strip, decimal off) => DarkroomSeason.Moved(strip, off, DarkroomSeason.After.AddHours(-1));

    private async Task<IReadOnlyList<StripRecord>> FillAsync()
    {
        var strips = ChartHistory.Strips(DarkroomSeason.Strips);
        await DarkroomSeason.FillAsync(_program.Folder, strips, TestContext.Current.CancellationToken);
        return strips;
    }

    private async Task ReadAsync(StripRecord strip)
    {
        await using var store =
            await EmptyStore.OpenAsync(_program.Folder, TimeProvider.System, TestContext.Current.CancellationToken);
        await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
    }

    private async Task<XDocument> ReportAsync(params string[] options)
    {
        var (code, output, error) = await _program.RunAsync(["report", "--force", "--out", Page, .. options]);
        Assert.True((code, output) == (0, ""), error);
        Assert.Contains($"Wrote {Page}", error, StringComparison.Ordinal);
        return XDocument.Parse(await File.ReadAllTextAsync(Page, TestContext.Current.CancellationToken), LoadOptions.PreserveWhitespace);
    }
}
