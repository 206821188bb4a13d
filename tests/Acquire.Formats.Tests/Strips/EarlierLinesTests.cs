using System.Text.RegularExpressions;
using Acquire.Formats.ProcessSheets;
using Acquire.Formats.Strips;
using Acquire.Formats.Tests.ProcessSheets;

namespace Acquire.Formats.Tests.Strips;

/// <summary>
/// A line and a snapshot as the last version wrote them that joined names by underscores, with all that a record can have. They are read
/// for ever, and what is written of them has the names of today.
/// </summary>
public sealed partial class EarlierLinesTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 12, 18, 30, 0, TimeSpan.Zero);
    private static readonly ProcessSheet Sheet = ProcessSheetReader.Read(ProcessSheetSchemaTests.House, "house.json");
    private static readonly string Earlier = Path.Combine(AppContext.BaseDirectory, "Strips", "Earlier");

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Line_is_the_record_that_it_was_written_of() => Deep.Equal(Strip(), await ReadAsync(await OldLineAsync()));

    [Fact]
    public async Task Written_again_it_has_the_names_of_today_and_comes_back_byte_for_byte()
    {
        var line = StripJsonLines.Line(await ReadAsync(await OldLineAsync()));

        Assert.Empty(JoinedName().Matches(line).Select(m => m.Value));
        Assert.Contains("\"treatment\":\"re-bleach\"", line, StringComparison.Ordinal);
        var again = await ReadAsync(line);
        Deep.Equal(Strip(), again);
        Assert.Equal(line, StripJsonLines.Line(again));
    }

    [Fact]
    public async Task Snapshot_is_the_sheet_that_it_was_written_of()
    {
        var sheet = SheetSnapshot.Read(await File.ReadAllTextAsync(Path.Combine(Earlier, "sheet.json"), Token));

        Sheets.AssertSame(Sheet, sheet);
        Assert.Equal(SheetSnapshot.Write(Sheet), SheetSnapshot.Write(sheet));
        Assert.Empty(JoinedName().Matches(SheetSnapshot.Write(sheet)).Select(m => m.Value));
    }

    /// <summary>File, snapshot and line have one form: each is read as each other.</summary>
    [Fact]
    public void Snapshot_is_a_sheet_s_file_on_one_line()
    {
        Sheets.AssertSame(Sheet, ProcessSheetReader.Read(SheetSnapshot.Write(Sheet), "snapshot"));
        Sheets.AssertSame(Sheet, SheetSnapshot.Read(ProcessSheetWriter.Write(Sheet)));
        Assert.Contains($"\"judgedBy\":{SheetSnapshot.Write(Sheet)}", StripJsonLines.Line(Strip()), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Damaged_anywhere_it_is_a_record_or_an_error_for_the_user()
    {
        var whole = await OldLineAsync();
        await Gen.Select(Gen.Int[0, whole.Length - 1], Gen.Char["\"}-n0[,:_"]).SampleAsync(
            async (place, value) =>
            {
                try
                {
                    _ = await ReadAsync(whole[..place] + value + whole[(place + 1)..]);
                }
                catch (ImportException e)
                {
                    Assert.Contains(", line 1: ", e.Message, StringComparison.Ordinal);
                }
            },
            iter: 400);
    }

    private static Task<string> OldLineAsync() => File.ReadAllTextAsync(Path.Combine(Earlier, "strip.jsonl"), Token);

    private static async Task<StripRecord> ReadAsync(string line)
    {
        using var folder = new TempFolder();
        await File.WriteAllTextAsync(folder.In("strips.jsonl"), line, Token);
        return (await StripJsonLinesReader.ReadAsync(folder.In("strips.jsonl"), Token).SingleAsync(Token)).Strip;
    }

    private static StripRecord Strip() => new(
        Id(3),
        "A1207",
        Sheet.Layout,
        Sheet,
        [
            new(
                Sheet.Layout.Patches[0],
                [Read(0.260m), Read(0.27m) with { Exclusion = new Exclusion("slipped", At.AddMinutes(1)), Note = "twice" }]),
            new(Sheet.Layout.Patches[1], [Read(0.71m)]),
            new(Sheet.Layout.Patches[2], [Read(1.30m)], new Exclusion("scratch, see \"stands_for\": here", At.AddMinutes(2))),
        ],
        [new PatchMean("a", Channel.Red, 0.26, 1, null, 0.001), new PatchMean("b", Channel.Red, 0.71, 1, 0.002, 0.01)],
        [new Aim("a", Channel.Red, 0.25, 0.01, 0.003) { Adjustment = -0.004 }],
        new Provenance(
            At, "darkroom staff", new InstrumentInUse("labelled-line", new string('a', 64), "serial:/dev/serial/by-id/desk")),
        Revision.First("darkroom staff", At, "read"))
    {
        Tags = new StripTags
        {
            Line = "dip tank",
            Bottle = "D1",
            Note = "after lunch",
            Handling = "gloves",
            Reread = new Reread(Id(1), Treatment.ReBleach),
            PairedWith = Id(2),
        },
        SessionId = Id(4),
        ReferenceId = Id(5),
        CheckLacking = "no check yet",
        Repeatability = new RepeatabilityInForce(Id(6), [new ChannelScatter(Channel.Red, 0.004, 19)]),
        Questions =
        [
            new StripQuestion("wrong_end", "Was it the wrong end?", "turn it", 0.97, At.AddSeconds(9))
            {
                Answer = QuestionAnswer.Dismissed, AnsweredAt = At.AddSeconds(12),
            },
        ],
    };

    private static Guid Id(int number) => Guid.Parse($"01957c2f-0000-7000-8000-{number:D12}");

    private static PatchRead Read(decimal red) => new(new Reading(
        ChannelDensities.Rgb(red, red + 0.3m, red + 0.5m),
        At.AddSeconds(1),
        [RawLine.OfText(FormattableString.Invariant($"R {red} G {red + 0.3m} B {red + 0.5m}"), At.AddSeconds(1))]));

    [GeneratedRegex("(?<!\\\\)\"\\w+_\\w+\":")]
    private static partial Regex JoinedName();
}
