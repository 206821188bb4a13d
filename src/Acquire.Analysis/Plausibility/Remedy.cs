namespace Acquire.Analysis.Plausibility;

/// <summary>What to do about a mistake.</summary>
public abstract record Remedy
{
    private Remedy()
    {
    }

    /// <summary>Give the reads to other patches.</summary>
    /// <param name="From">For each patch in the layout's order, the index of the patch whose reads it takes; a permutation.</param>
    public sealed record ReorderPatches(ImmutableArray<int> From) : Remedy;

    /// <summary>Give the densities of some patches to other channels.</summary>
    /// <param name="PatchKeys">The patches.</param>
    /// <param name="Moves">Where each density goes; a permutation of channels.</param>
    public sealed record ExchangeChannels(ImmutableArray<string> PatchKeys, ImmutableArray<ChannelMove> Moves) : Remedy;

    /// <summary>Read patches again; their reads stay with the reason.</summary>
    /// <param name="PatchKeys">The patches.</param>
    /// <param name="Reason">The reason that the reads get.</param>
    public sealed record ReadPatchAgain(ImmutableArray<string> PatchKeys, string Reason) : Remedy;

    /// <summary>Leave out one read; it stays with the reason.</summary>
    /// <param name="Reason">The reason that it gets.</param>
    public sealed record LeaveOutRead(ReadPlace Read, string Reason) : Remedy;

    /// <summary>Clean the aperture, set the zero and read the strip again.</summary>
    public sealed record CheckZero : Remedy;

    /// <summary>Check the instrument on its plaque, and read the strip again when it was off.</summary>
    public sealed record CheckSlope : Remedy;

    /// <summary>Let the strip dry and read it again.</summary>
    public sealed record WaitAndDry : Remedy;

    /// <summary>Judge by the aims of another lot.</summary>
    /// <param name="LotCode">The lot that fits; null when none of those known does.</param>
    public sealed record ChooseLot(string? LotCode) : Remedy;

    /// <summary>Set the instrument to another mode, channel or status and read the strip again.</summary>
    /// <param name="Setting">The setting, in words.</param>
    public sealed record SwitchInstrument(string Setting) : Remedy;

    /// <summary>Nothing is proposed: the user looks.</summary>
    public sealed record None : Remedy;
}

/// <summary>A density that goes from one channel to another.</summary>
/// <param name="From">The channel it stands in.</param>
/// <param name="To">The channel it belongs to.</param>
public readonly record struct ChannelMove(Channel From, Channel To);

/// <summary>Carries out those remedies that change only which read stands where. Every read and every raw line stays.</summary>
public static class Remedies
{
    /// <summary>Whether the remedy changes the record of reads; the others are for the user to do.</summary>
    public static bool ChangesReads(this Remedy remedy) =>
        remedy is Remedy.ReorderPatches or Remedy.ExchangeChannels or Remedy.ReadPatchAgain or Remedy.LeaveOutRead;

    /// <summary>The reads after the remedy; unchanged for a remedy that is for the user to do.</summary>
    /// <param name="patches">The reads of each patch, in the layout's order.</param>
    /// <param name="at">When it was accepted; the time of every exclusion it makes.</param>
    /// <exception cref="ArgumentException">The remedy is of another strip: no
    /// permutation of its patches, or a patch or read it lacks.</exception>
    public static ImmutableArray<PatchReads> Apply(Remedy remedy, ImmutableArray<PatchReads> patches, DateTimeOffset at) => remedy switch
    {
        Remedy.ReorderPatches { From: var from } => Reorder(patches, from),
        Remedy.ExchangeChannels { PatchKeys: var keys, Moves: var moves } => Each(patches, keys, p => Exchange(p, moves)),
        Remedy.ReadPatchAgain { PatchKeys: var keys, Reason: var reason } =>
            Each(patches, keys, p => LeaveOut(p, reason, at, (_, r) => r.Counts)),
        Remedy.LeaveOutRead { Read: var read, Reason: var reason } => Each(
            patches, [read.PatchKey],
            p => read.Index >= 0 && read.Index < p.Reads.Length
                ? LeaveOut(p, reason, at, (i, r) => i == read.Index && r.Counts)
                : throw new ArgumentException($"The patch {p.Patch.Name} has no read {read.Index + 1}.", nameof(remedy))),
        _ => patches,
    };

    private static ImmutableArray<PatchReads> Reorder(ImmutableArray<PatchReads> patches, ImmutableArray<int> from)
    {
        if (!from.Order().SequenceEqual(Enumerable.Range(0, patches.Length)))
        {
            throw new ArgumentException($"[{string.Join(' ', from)}] is no order of {patches.Length} patches.", nameof(from));
        }

        return
        [
            .. patches.Select((p, i) => from[i] == i ? p : patches[from[i]] with
            {
                Patch = p.Patch,
                Reads = [.. patches[from[i]].Reads.Select(
                    r => Noted(r, $"read as {patches[from[i]].Patch.Name}, moved to {p.Patch.Name}"))],
            }),
        ];
    }

    private static PatchReads Exchange(PatchReads patch, ImmutableArray<ChannelMove> moves)
    {
        if (!moves.Select(m => m.From).Order().SequenceEqual(moves.Select(m => m.To).Order())
            || moves.DistinctBy(m => m.From).Count() != moves.Length)
        {
            throw new ArgumentException("An exchange of channels gives each channel the density of one other.", nameof(moves));
        }

        var source = Channels.All.ToDictionary(c => c, c => moves.Where(m => m.To == c).Select(m => m.From).DefaultIfEmpty(c).First());
        var words =
            $"channels exchanged: {string.Join(", ", moves.Where(m => m.From != m.To).Select(m => $"{m.From.Word()} to {m.To.Word()}"))}";
        return patch with { Reads = [.. patch.Reads.Select(r => Noted(r with { Reading = Exchanged(r.Reading) }, words))] };

        Reading Exchanged(Reading reading) => reading with
        {
            Densities = new ChannelDensities(
                reading.Densities[source[Channel.Red]], reading.Densities[source[Channel.Green]],
                reading.Densities[source[Channel.Blue]], reading.Densities[source[Channel.Visual]]),
        };
    }

    private static PatchReads LeaveOut(PatchReads patch, string reason, DateTimeOffset at, Func<int, PatchRead, bool> which)
    {
        var exclusion = new Exclusion(reason, at);
        return patch with { Reads = [.. patch.Reads.Select((r, i) => which(i, r) ? r with { Exclusion = exclusion } : r)] };
    }

    private static PatchRead Noted(PatchRead read, string note) =>
        read with { Note = read.Note is { } before ? $"{before}; {note}" : note };

    private static ImmutableArray<PatchReads> Each(
        ImmutableArray<PatchReads> patches, ImmutableArray<string> keys, Func<PatchReads, PatchReads> change)
    {
        var lacking = keys.FirstOrDefault(k => !patches.Any(p => Is(p, k)));
        return lacking is null
            ? [.. patches.Select(p => keys.Any(k => Is(p, k)) ? change(p) : p)]
            : throw new ArgumentException($"The strip has no patch '{lacking}'.", nameof(keys));

        static bool Is(PatchReads patch, string key) => Keys.Same(patch.Patch.Key, key);
    }
}
