using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Tests.ProcessSheets;

public class ProcessSheetWriterTests
{
    private static readonly Gen<Limit> Limits = Gen.Select(
        Gen.Int[-100, 0], Gen.Int[0, 100], Gen.Bool, Gen.OneOf("the sheet", "the house \"rule\"", "Ω − é"),
        (lower, upper, both, source) => new Limit(both ? lower / 1000.0 : null, upper / 1000.0, source));

    [Fact]
    public void Sheet_written_and_read_is_the_same()
    {
        foreach (var sheet in ShippedSheets.All)
        {
            Sheets.AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written"));
        }
    }

    [Fact]
    public void Any_limits_written_and_read_are_the_same() => Gen.Select(Limits.Null(), Limits.Null(), Gen.Enum<DensityStatus>())
        .Sample((action, wide, status) =>
    {
        // A control limit that lies nowhere inside the action limit.
        var control = wide is null ? null : new Limit(action is { Lower: null } ? null : -0.2, 0.2, wide.Source);
        var layout = new StripLayout("one", [new Patch("p", "P \"1\"")]);
        var sheet = new ProcessSheet(
            "k", "K", status, layout,
            [new PatchParameter("x", "X", "", "p", [Channel.Visual, Channel.Blue], new ParameterLimits(action, control))], "a\nnote");

        Sheets.AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written"));
    });

    [Fact]
    public void Written_sheet_keeps_its_minus_signs_readable() =>
        Assert.Contains("HD − LD", ProcessSheetWriter.Write(ShippedSheets.Get("c41")), StringComparison.Ordinal);

    [Fact]
    public void Any_sheet_written_and_read_is_the_same() =>
        Sheets.Any.Sample(sheet => Sheets.AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written")));

    [Fact]
    public void Places_of_limits_that_are_to_be_filled_in_are_written_and_filled_in_they_count()
    {
        var text = ProcessSheetWriter.Write(ShippedSheets.Get("ra4"));
        Assert.Contains("\"lower\": null", text, StringComparison.Ordinal);

        var filled = text.Replace("\"lower\": null", "\"lower\": -0.1", StringComparison.Ordinal)
            .Replace("\"source\": null", "\"source\": \"sheet in the box\"", StringComparison.Ordinal);

        Assert.All(
            ProcessSheetReader.Read(filled, "filled").Parameters,
            p => Assert.Equal(new Limit(-0.1, null, "sheet in the box"), p.Limits.Control));
    }
}
