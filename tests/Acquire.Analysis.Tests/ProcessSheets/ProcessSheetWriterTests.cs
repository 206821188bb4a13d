using Acquire.Analysis.ProcessSheets;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Domain.Strips;
using CsCheck;

namespace Acquire.Analysis.Tests.ProcessSheets;

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
            AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written"));
        }
    }

    [Fact]
    public void Any_limits_written_and_read_are_the_same() => Gen.Select(Limits.Null(), Limits.Null(), Gen.Enum<DensityStatus>()).Sample((action, wide, status) =>
    {
        // A control limit that lies nowhere inside the action limit.
        var control = wide is null ? null : new Limit(action is { Lower: null } ? null : -0.2, 0.2, wide.Source);
        var layout = new StripLayout("one", [new Patch("p", "P \"1\"")]);
        var sheet = new ProcessSheet(
            "k", "K", status, layout, [new PatchParameter("x", "X", "", "p", [Channel.Visual, Channel.Blue], new ParameterLimits(action, control))], "a\nnote");

        AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written"));
    });

    [Fact]
    public void Written_sheet_keeps_its_minus_signs_readable() =>
        Assert.Contains("HD − LD", ProcessSheetWriter.Write(ShippedSheets.Get("c41")), StringComparison.Ordinal);

    private static void AssertSame(ProcessSheet expected, ProcessSheet actual)
    {
        Assert.Equal((expected.Key, expected.Name, expected.Status, expected.Note), (actual.Key, actual.Name, actual.Status, actual.Note));
        Assert.Equal(expected.Layout.Name, actual.Layout.Name);
        Assert.Equal(expected.Layout.Patches, actual.Layout.Patches);
        Assert.Equal(expected.Parameters.Select(Facts), actual.Parameters.Select(Facts));
    }

    // Immutable arrays compare by reference, so the facts are laid out flat.
    private static (string, string, string, ParameterLimits, string) Facts(Parameter parameter) =>
        (parameter.Key, parameter.Name, parameter.StandsFor, parameter.Limits, parameter switch
        {
            PatchParameter p => $"{p.PatchKey} {string.Join(' ', p.Channels)}",
            DifferenceParameter d => $"{d.PatchKey} − {d.MinusPatchKey} {string.Join(' ', d.Channels)}",
            SpreadParameter s => $"of {s.OfKey}",
            _ => throw new NotSupportedException(),
        });
}
