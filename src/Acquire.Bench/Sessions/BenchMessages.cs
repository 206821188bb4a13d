using Acquire.Analysis.Plausibility;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;

namespace Acquire.Bench.Sessions;

/// <summary>What the bench says about a line that is not taken for a reading, and what to do about it.</summary>
internal static class BenchMessages
{
    public const string AlreadyComplete = "All patches are read; this reading is kept in the session but counts for no patch.";

    public const string NothingIsAsked = "Nothing is asked.";

    public const string AnswerFirst = "A question is open: answer it with y or n first, then the strip is kept.";

    public static string Unsaid(int count) => FormattableString.Invariant(
        $"Before it came {count} more {(count == 1 ? "line" : "lines")} that {(count == 1 ? "is" : "are")} kept but not shown one by one. ")
        + "If this is not how the instrument sends, look at rate and framing with acquire listen.";

    public static string MissingChannels(ImmutableArray<Channel> missing) =>
        $"The reading has no {string.Join(", ", missing.Select(c => c.Word()))} density, which is needed here. "
        + "Set the instrument to send all channels, then read the patch again.";

    public static string Of(InstrumentEvent received) => received switch
    {
        InstrumentEvent.BeyondRange { Channels: { IsEmpty: false } channels } =>
            $"Beyond the instrument's range in {string.Join(", ", channels.Select(c => c.Word()))}: not taken. "
            + "Check that the patch lies under the aperture and read it again, or leave the patch out.",
        InstrumentEvent.BeyondRange =>
            "Beyond the instrument's range: not taken. Check that the patch lies "
            + "under the aperture and read it again, or leave the patch out.",
        InstrumentEvent.InstrumentError { Line: var line } =>
            $"The instrument reports '{line.Text.Trim()}': not taken. Read the patch again.",
        InstrumentEvent.UnmatchedLine { Line: var line, Reason: var reason } =>
            $"A line fits nothing in the profile: '{line.Text}'. {reason.TrimEnd('.')}. It is kept, not guessed at; "
            + "if it was a reading, read the patch again.",
        _ => received.Line.Text,
    };
}

/// <summary>What would be done about a mistake, in words that follow "yes:".</summary>
public static class RemedyWords
{
    /// <summary>The words, without a full stop.</summary>
    /// <param name="layout">The strip's patches.</param>
    public static string Of(Remedy remedy, StripLayout layout)
    {
        return remedy switch
        {
            Remedy.ReorderPatches { From: var from } when from.SequenceEqual(Enumerable.Range(0, from.Length).Reverse()) =>
                "give the reads to the patches in reverse order",
            Remedy.ReorderPatches { From: var from } => "move reads: "
                + string.Join(", ", from.Select((f, i) => (f, i)).Where(m => m.f != m.i)
                    .Select(m => $"{layout.Patches[m.f].Name} to {layout.Patches[m.i].Name}")),
            Remedy.ExchangeChannels { PatchKeys: var keys, Moves: var moves } =>
                "exchange channels ("
                + string.Join(", ", moves.Where(m => m.From != m.To).Select(m => $"{m.From.Word()} to {m.To.Word()}"))
                + $") in {Names(keys, layout)}",
            Remedy.ReadPatchAgain { PatchKeys: var keys } =>
                $"read {Names(keys, layout)} again; the reads until now stay in the record, left out",
            Remedy.LeaveOutRead { Read: var read } => FormattableString.Invariant(
                $"leave out read {read.Index + 1} of {layout.GetByKey(read.PatchKey).Name}; it stays in the record with the reason"),
            Remedy.CheckZero => "clean the aperture, set the zero on the open gate, and read the strip again; this only notes it",
            Remedy.CheckSlope =>
                "check the instrument on its plaque (acquire check), and read the strip again if it was off; this only notes it",
            Remedy.WaitAndDry => "let the strip dry and read it again; this only notes it",
            Remedy.ChooseLot { LotCode: { } code } =>
                $"once it is kept, give it the other lot (acquire strip amend ID --lot {code}); this only notes it",
            Remedy.ChooseLot => "look for the code number on the strip or its box (acquire lot list); this only notes it",
            Remedy.SwitchInstrument { Setting: var setting } =>
                $"set the instrument to {setting}, then read again what was read wrongly; this only notes it",
            _ => "nothing is proposed but to look at strip and instrument; this only notes it",
        };
    }

    private static string Names(ImmutableArray<string> keys, StripLayout layout) => keys.Length == layout.Patches.Length && keys.Length > 1
        ? "all patches"
        : string.Join(", ", keys.Select(k => layout.GetByKey(k).Name));
}

/// <summary>
/// Asks whether a repeat is of the same patch. A densitometer repeats a re-placed patch to about 0.01 (common practice, no source); reads
/// that lie further apart than five times that are of two patches, or one of them met dust or a scratch.
/// </summary>
internal static class RepeatCheck
{
    /// <summary>The widest range of reads of one patch, in density, that is not questioned.</summary>
    public const decimal WidestRange = 0.05m;

    /// <summary>The question about the patch that was just read; null when its reads agree.</summary>
    public static string? Question(GuidedStrip strip, ReadTarget target)
    {
        var patch = strip.Patches[target.Position - 1];
        var (channel, range) = Channels.All
            .Select(c => (Channel: c, Densities: patch.Densities(c).Select(d => d.Value).ToList()))
            .Where(c => c.Densities.Count > 1)
            .Select(c => (c.Channel, Range: c.Densities.Max() - c.Densities.Min()))
            .DefaultIfEmpty()
            .MaxBy(c => c.Range);
        return range > WidestRange
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"The reads of {target.Patch.Name} lie {range:0.00##} apart in {channel.Word()}. Is this the same patch, clean and dry? "
                + $"If not, take the read back (u) or read the patch again (r).")
            : null;
    }
}
