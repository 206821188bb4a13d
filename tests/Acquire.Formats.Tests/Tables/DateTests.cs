using Acquire.Formats.Tables;

namespace Acquire.Formats.Tests.Tables;

public sealed class DateTests : IDisposable
{
    private static readonly ColumnMap Map = new()
    {
        Rows = RowKind.Patch,
        Columns = new Dictionary<string, string> { ["processed_at"] = "date", ["patch"] = "patch", ["red"] = "red", ["lot"] = "lot" }
            .ToImmutableSortedDictionary(),
    };

    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("2026-03-04", DateStyle.Ymd, "2026-03-04 00:00:00")]
    [InlineData("2026/3/4 18:30", DateStyle.Ymd, "2026-03-04 18:30:00")]
    [InlineData("04.03.2026", DateStyle.Dmy, "2026-03-04 00:00:00")]
    [InlineData("4.3.26 18.30", DateStyle.Dmy, "2026-03-04 18:30:00")]
    [InlineData("03/04/2026 6:30 pm", DateStyle.Mdy, "2026-03-04 18:30:00")]
    [InlineData("03/04/2026 12:05 AM", DateStyle.Mdy, "2026-03-04 00:05:00")]
    [InlineData("4 Mar 2026", DateStyle.Mdy, "2026-03-04 00:00:00")]
    [InlineData("March 4, 2026 18:30:05", DateStyle.Dmy, "2026-03-04 18:30:05")]
    [InlineData("2026-03-04T18:30:05.1234567+01:00", DateStyle.Ymd, "2026-03-04 18:30:05")]
    public void Parse_of_usual_forms_gives_the_time(string text, DateStyle style, string time) =>
        Assert.Equal(time, DateText.Parse(text, style)!.Clock.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("2026-02-30")]
    [InlineData("2026-13-01")]
    [InlineData("31/31/2026")]
    [InlineData("2026-03-04 25:00")]
    [InlineData("2026-03-04 13:00 pm")]
    [InlineData("2026-03/04")]
    [InlineData("yesterday")]
    [InlineData("46085")]
    [InlineData("")]
    public void Styles_of_what_is_no_date_are_none(string text) => Assert.Empty(DateText.Styles(text));

    [Fact]
    public void Parse_any_date_written_in_a_style_gives_it_back() => Gen.Select(
        Gen.Date[new DateTime(2000, 1, 1), new DateTime(2099, 12, 31)], Gen.Enum<DateStyle>()).Sample((day, style) =>
    {
        var format = style switch { DateStyle.Ymd => "yyyy-MM-dd", DateStyle.Dmy => "d.M.yyyy", _ => "MM/dd/yyyy" };
        Assert.Equal(day.Date, DateText.Parse(day.ToString(format, CultureInfo.InvariantCulture), style)!.Clock);
    });

    [Fact]
    public async Task Scan_one_date_after_the_twelfth_tells_for_all()
    {
        var verdict = await ScanAsync("03/04/2026", "25/04/2026", "05/05/2026");

        Assert.Equal((DateStyle.Dmy, 3, false), (verdict.Style, verdict.Line, verdict.IsAmbiguous));
    }

    [Fact]
    public async Task Scan_of_dates_that_do_not_tell_names_both_readings()
    {
        var verdict = await ScanAsync("04/04/2026", "03/04/2026");

        Assert.True(verdict.IsAmbiguous);
        Assert.Equal(3, verdict.Line);
        Assert.Equal([(DateStyle.Dmy, "3 April 2026"), (DateStyle.Mdy, "4 March 2026")], verdict.Readings);
    }

    [Fact]
    public async Task Scan_of_two_styles_or_no_date_is_refused_with_the_line()
    {
        Assert.Contains(
            "line 3: the date '04/25/2026' is written otherwise than '25/04/2026' in line 2",
            (await Assert.ThrowsAsync<ImportException>(() => ScanAsync("25/04/2026", "04/25/2026"))).Message,
            StringComparison.Ordinal);
        Assert.Contains(
            "line 2: processed_at is 'soon'",
            (await Assert.ThrowsAsync<ImportException>(() => ScanAsync("soon"))).Message,
            StringComparison.Ordinal);
    }

    /// <summary>
    /// In Berlin the clock was set back from 03:00 to 02:00 on 25 October 2026 and put forward from 02:00 to 03:00 on 29 March.
    /// </summary>
    [Theory]
    [Trait("Source", "IANA time zone database, Europe/Berlin; Directive 2000/84/EC for the days")]
    [InlineData("2026-10-25 02:30", "2026-10-25T00:30:00Z", "set back")]
    [InlineData("2026-03-29 02:30", "2026-03-29T01:30:00Z", "put forward")]
    [InlineData("2026-10-25 03:30", "2026-10-25T02:30:00Z", null)]
    [InlineData("2026-10-25 02:30+01:00", "2026-10-25T01:30:00Z", null)]
    public void Clock_that_was_changed_is_told(string text, string utc, string? said)
    {
        var (at, note) = new LocalClock(TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin")).At(DateText.Parse(text, DateStyle.Ymd)!);

        Assert.Equal(DateTimeOffset.Parse(utc, CultureInfo.InvariantCulture), at);
        Assert.Equal(said is null, note is null);
        Assert.Contains(said ?? "", note ?? "", StringComparison.Ordinal);
    }

    private async Task<DateVerdict> ScanAsync(params string[] dates)
    {
        var file = _folder.In("dates.csv");
        await File.WriteAllTextAsync(file, "date,patch,red,lot\n" + string.Concat(dates.Select(d => $"{d},ld,0.4,1\n")), Token);
        return await DateScan.OfAsync(file, Map, Token);
    }
}
