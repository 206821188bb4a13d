using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>What would be done about a mistake, in words that follow "yes:".</summary>
public static class RemedyWords
{
    /// <summary>The words, without a full stop.</summary>
    /// <param name="remedy">The remedy.</param>
    /// <param name="layout">The strip's patches.</param>
    public static string Of(Remedy remedy, StripLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        return remedy switch
        {
            Remedy.ReorderPatches { From: var from } when from.SequenceEqual(Enumerable.Range(0, from.Length).Reverse()) =>
                "give the reads to the patches in reverse order",
            Remedy.ReorderPatches { From: var from } => "move reads: "
                + string.Join(", ", from.Select((f, i) => (f, i)).Where(m => m.f != m.i).Select(m => $"{layout.Patches[m.f].Name} to {layout.Patches[m.i].Name}")),
            Remedy.ExchangeChannels { PatchKeys: var keys, Moves: var moves } =>
                $"exchange channels ({string.Join(", ", moves.Where(m => m.From != m.To).Select(m => $"{m.From.Word()} to {m.To.Word()}"))}) in {Names(keys, layout)}",
            Remedy.ReadPatchAgain { PatchKeys: var keys } => $"read {Names(keys, layout)} again; the reads until now stay in the record, left out",
            Remedy.LeaveOutRead { Read: var read } => FormattableString.Invariant(
                $"leave out read {read.Index + 1} of {layout.GetByKey(read.PatchKey).Name}; it stays in the record with the reason"),
            Remedy.CheckZero => "clean the aperture, set the zero on the open gate, and read the strip again; this only notes it",
            Remedy.CheckSlope => "check the instrument on its plaque (acquire check), and read the strip again if it was off; this only notes it",
            Remedy.WaitAndDry => "let the strip dry and read it again; this only notes it",
            Remedy.ChooseLot { LotCode: { } code } => $"once it is kept, give it the other lot (acquire strip amend ID --lot {code}); this only notes it",
            Remedy.ChooseLot => "look for the code number on the strip or its box (acquire lot list); this only notes it",
            Remedy.SwitchInstrument { Setting: var setting } => $"set the instrument to {setting}, then read again what was read wrongly; this only notes it",
            _ => "nothing is proposed but to look at strip and instrument; this only notes it",
        };
    }

    private static string Names(ImmutableArray<string> keys, StripLayout layout) => keys.Length == layout.Patches.Length && keys.Length > 1
        ? "all patches"
        : string.Join(", ", keys.Select(k => layout.GetByKey(k).Name));
}
