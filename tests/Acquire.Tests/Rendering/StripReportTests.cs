using System.Text.Json;
using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;
using Acquire.Hosting;
using Acquire.Rendering.Strips;

namespace Acquire.Tests.Rendering;

public class StripReportTests
{
    private static readonly DateTimeOffset Moment = new(2026, 11, 25, 18, 40, 0, TimeSpan.Zero);

    /// <summary>
    /// The strip is a photochemical vendor's worked example (support page "Film control strip interpretation"). Its page prints 0.18 for
    /// D-max blue less yellow blue, a misprint: 2.98 − 2.70 is 0.28.
    /// </summary>
    [Fact]
    [Trait("Source", "Photochemical vendor's support page, Film control strip interpretation")]
    public void Json_carries_the_vendor_pages_arithmetic()
    {
        var parameters = Json(Record(hd: (1.30m, 1.77m, 2.03m))).GetProperty("parameters").EnumerateArray().ToList();
        double Value(string key, string channel) => parameters
            .Single(p => p.GetProperty("key").GetString() == key && p.GetProperty("channel").GetString() == channel)
            .GetProperty("value").GetDouble();
        Assert.Equal([0.86, 1.01, 1.05], new[] { "red", "green", "blue" }.Select(c => Math.Round(Value("contrast", c), 9)));
        Assert.Equal(0.28, Value("silver", "blue"), 1e-9);
        Assert.All(parameters, p => Assert.Equal("inside", p.GetProperty("zone").GetString()));
    }

    [Fact]
    public void Json_names_are_the_contract()
    {
        var parameter = Json(Record()).GetProperty("parameters")[0];
        string[] contract = ["name", "key", "channel", "value", "aim", "deviation", "uncertainty", "zone"];
        Assert.Empty(contract.Except(parameter.EnumerateObject().Select(p => p.Name)));
    }

    [Fact]
    public void Text_says_the_zone_in_words_beside_the_deviation()
    {
        var text = Text(Record(hd: (1.38m, 1.77m, 2.03m)));
        Assert.Matches(@"HD − LD\s+\+0\.080 ±0\.\d{3}\* ACTION", text);
        Assert.Contains("In the ACTION zone: HD − LD red +0.080.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_of_a_strip_out_of_control_says_to_check_first()
    {
        var text = Text(Record(hd: (1.40m, 1.77m, 2.03m)));
        Assert.Contains("OUT of control: HD − LD red +0.100; Colour spread of HD − LD 0.100.", text, StringComparison.Ordinal);
        Assert.Contains("run a second strip", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Questions_and_answers_are_a_line_each_and_in_the_json()
    {
        var strip = Record() with
        {
            Questions =
            [
                new StripQuestion("neutral_order", "Again?", "read again", 9, Moment),
                new StripQuestion(
                    "wrong_end", "Reorder?", "move reads", 9, Moment) { Answer = QuestionAnswer.Accepted, AnsweredAt = Moment },
                new StripQuestion(
                    "outlier", "Leave it out?", "leave it out", 9, Moment) { Answer = QuestionAnswer.Dismissed, AnsweredAt = Moment },
                new StripQuestion("not_dry", "Is it dry?", "let it dry", 9, Moment),
            ],
        };
        string[] expected = [
            "Asked: Again? Not answered.",
            "Asked: Reorder? Yes: move reads.",
            "Asked: Leave it out? No.",
            "Asked: Is it dry? Not answered; look at the reads before you trust the strip."];
        Assert.Equal(
            expected, Text(strip).Split('\n').Where(l => l.StartsWith("Asked", StringComparison.Ordinal)).Select(l => l.TrimEnd()));
        var json = Json(strip).GetProperty("questions");
        Assert.Equal(
            ["unanswered", "accepted", "dismissed", "unanswered"], json.EnumerateArray().Select(q => q.GetProperty("answer").GetString()));
        Assert.Equal("wrong_end", json[1].GetProperty("kind").GetString());
    }

    [Fact]
    public void Text_of_single_reads_says_what_is_assumed() =>
        Assert.Contains("one read is taken to scatter by 0.010", Text(Record()), StringComparison.Ordinal);

    [Fact]
    public void Text_of_a_patch_left_out_says_what_is_not_known()
    {
        var text = Text(Record(leaveOut: "dmax"));
        Assert.Contains("D-max B − yellow B is not known", text, StringComparison.Ordinal);
        Assert.Contains("INSIDE the action limits as far as it was read", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_of_a_process_without_limits_gives_no_verdict_and_says_what_to_do()
    {
        var text = Write(Wedge(), json: false);
        Assert.Contains(
            "No verdict: no limits are set for Black-and-white negative. Copy them from the sheet packed with the strips",
            text,
            StringComparison.Ordinal);
        Assert.Contains("Not on this strip: Speed step, Upper − speed step, D-max.", text, StringComparison.Ordinal);
        Assert.DoesNotMatch(@"Upper − speed step\s+not known", text);
    }

    [Fact]
    public void Text_of_a_wedge_shows_the_curve_step_by_step_and_what_the_speed_point_means()
    {
        var text = Write(Wedge(), json: false);
        Assert.Matches(@"Step 21\s+3\.00\s+2\.400 0\.000", text);
        Assert.Contains("Speed point 0.10 above D-min: log H 0.00 on the strip's own scale", text, StringComparison.Ordinal);
        Assert.Contains("0.87 denser 1.30 log H further, where ISO 6 asks for 0.80 ± 0.05", text, StringComparison.Ordinal);
    }

    // Fog 0.30 beside the wedge; step n at 0.15 · (n − 1) log H has 0.40 + 0.10 · (n − 1), so 1.30 log H are worth 0.87.
    private static StripRecord Wedge()
    {
        var sheet = ShippedSheets.Get("bw");
        var layout = sheet.GetLayout("wedge21").Strip;
        var provenance = new Provenance(Moment, "staff", null);
        System.Collections.Immutable.ImmutableArray<PatchReads> patches = [.. layout.Patches.Select((p, i) => new PatchReads(
            p, [new PatchRead(Reading.Entered(new ChannelDensities(null, null, null, new Density(0.30m + (i * 0.10m))), Moment))]))];
        var aims = Aims.Of(new StripLot("2417", "bw", layout), new LotReference(
            Guid.CreateVersion7(Moment), "2417", patches, provenance, Revision.First("staff", Moment, "read")));
        return new StripRecord(
            Guid.CreateVersion7(Moment),
            "2417", layout, sheet, patches, PatchMeans.Of(patches), aims, provenance, Revision.First("staff", Moment, "read"));
    }

    private static StripRecord Record((decimal R, decimal G, decimal B)? hd = null, string? leaveOut = null)
    {
        var sheet = ShippedSheets.Get("c41");
        var lot = new StripLot("2417", "c41", sheet.Layout);
        var provenance = new Provenance(Moment, "staff", null);
        var aims = Aims.Of(lot, new LotReference(
            Guid.CreateVersion7(Moment),
            "2417", Patches(sheet.Layout, (1.30m, 1.77m, 2.03m), null), provenance, Revision.First("staff", Moment, "read")));
        var patches = Patches(sheet.Layout, hd ?? (1.30m, 1.77m, 2.03m), leaveOut);
        return new StripRecord(
            Guid.CreateVersion7(Moment), "2417", sheet.Layout, sheet, patches, PatchMeans.Of(patches), aims, provenance,
            Revision.First("staff", Moment, "read"));
    }

    private static System.Collections.Immutable.ImmutableArray<PatchReads> Patches(
        StripLayout layout, (decimal R, decimal G, decimal B) hd, string? leaveOut)
    {
        var densities = new Dictionary<string, ChannelDensities>
        {
            ["dmin"] = ChannelDensities.Rgb(0.32m, 0.63m, 0.72m),
            ["ld"] = ChannelDensities.Rgb(0.44m, 0.76m, 0.98m),
            ["hd"] = ChannelDensities.Rgb(hd.R, hd.G, hd.B),
            ["dmax"] = ChannelDensities.Rgb(2.10m, 2.60m, 2.98m),
            ["yellow"] = ChannelDensities.Rgb(0.40m, 0.90m, 2.70m),
        };
        return [.. layout.Patches.Select(p => new PatchReads(
            p,
            [new PatchRead(Reading.Entered(densities[p.Key], Moment))],
            p.Key == leaveOut ? new Exclusion("scratched", Moment) : null))];
    }

    private static JsonElement Json(StripRecord record) => JsonDocument.Parse(Write(record, json: true)).RootElement;

    private static string Text(StripRecord record) => Write(record, json: false);

    private static string Write(StripRecord record, bool json)
    {
        using var writer = new StringWriter();
        StripReport.Write(Surroundings.Make(writer, redirected: true), record, StripJudge.Judge(record), TimeProvider.System, json);
        return writer.ToString();
    }
}
