using System.Text.Json;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.ProcessSheets;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Lots;
using Acquire.Domain.Records;
using Acquire.Domain.Strips;
using Acquire.Hosting;
using Acquire.Rendering;

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
        Assert.Matches(@"HD − LD\s+\+0\.080 ±0\.\d{3} ACTION", text);
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
    public void Text_of_single_reads_says_that_the_uncertainty_is_a_lower_bound() =>
        Assert.Contains("Each patch was read once", Text(Record()), StringComparison.Ordinal);

    [Fact]
    public void Text_of_a_patch_left_out_says_what_is_not_known()
    {
        var text = Text(Record(leaveOut: "dmax"));
        Assert.Contains("D-max B − yellow B is not known", text, StringComparison.Ordinal);
        Assert.Contains("INSIDE the action limits as far as it was read", text, StringComparison.Ordinal);
    }

    private static StripRecord Record((decimal R, decimal G, decimal B)? hd = null, string? leaveOut = null)
    {
        var sheet = ShippedSheets.Get("c41");
        var lot = new StripLot("2417", "c41", sheet.Layout);
        var provenance = new Provenance(Moment, "staff", null);
        var aims = Aims.Of(lot, new LotReference(
            Guid.CreateVersion7(Moment), "2417", Patches(sheet.Layout, (1.30m, 1.77m, 2.03m), null), provenance, Revision.First("staff", Moment, "read")));
        var patches = Patches(sheet.Layout, hd ?? (1.30m, 1.77m, 2.03m), leaveOut);
        return new StripRecord(
            Guid.CreateVersion7(Moment), "2417", sheet.Layout, sheet, patches, PatchMeans.Of(patches), aims, provenance,
            Revision.First("staff", Moment, "read"));
    }

    private static System.Collections.Immutable.ImmutableArray<PatchReads> Patches(StripLayout layout, (decimal R, decimal G, decimal B) hd, string? leaveOut)
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
