using Acquire.Bench.Lots;
using Acquire.Storage.Strips;

namespace Acquire.Bench.Strips;

/// <summary>What must hold before a strip is read, so that nobody reads fifteen patches in vain.</summary>
internal static class StripChecks
{
    /// <summary>Gives the earlier record of a strip that is read again; null for a new strip.</summary>
    /// <exception cref="BenchException">The strip cannot be what is said of it.</exception>
    public static async Task<StripRecord?> RequireAsync(AcquireStore store, LotEntry entry, StripRequest strip, CancellationToken cancellationToken)
    {
        var (lot, tags) = (entry.Lot, strip.Tags);
        if (await FindAsync(tags.Reread?.Of) is { } first)
        {
            RequireSame(first, entry);
            return first;
        }

        if (await FindAsync(tags.PairedWith) is { } other && Keys.Same(other.LotCode, lot.Code))
        {
            throw new BenchException(
                $"A pair is a strip of the old lot and one of the new, processed together; strip {StripId.ShortForm(other.Id)} is of lot {lot.Code} too.");
        }

        if (await FindAsync(tags.Confirms) is { } outside && !SamePatches(outside, entry))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(outside.Id)} has other patches than those of lot {lot.Code}, so a strip of that lot cannot confirm it.");
        }

        return (entry.Reference, strip.ForBaseline) switch
        {
            (null, false) => throw new BenchException(
                $"Lot {lot.Code} has no reference yet, so there are no aims to judge by. Read the reference strip first: "
                + $"acquire lot reference {lot.Code} --port PORT --profile PROFILE. Where the maker gives none, read five strips with --baseline."),
            ({ BaselineStrips.IsEmpty: true }, true) => throw new BenchException(
                $"Lot {lot.Code} has a reference, so its strips are judged by it. Leave --baseline out."),
            _ => null,
        };

        async Task<StripRecord?> FindAsync(Guid? id) => id is not { } given ? null
            : await store.FindStripAsync(given.ToString(), cancellationToken)
                ?? throw new BenchException($"There is no strip {given}. See: acquire strip list");
    }

    private static void RequireSame(StripRecord first, LotEntry entry)
    {
        if (!Keys.Same(first.LotCode, entry.Lot.Code))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(first.Id)} is of lot {first.LotCode}; the same strip cannot be of lot {entry.Lot.Code}. Leave --lot out.");
        }

        if (!SamePatches(first, entry))
        {
            throw new BenchException($"Strip {StripId.ShortForm(first.Id)} was read with other patches than lot {entry.Lot.Code} has now.");
        }
    }

    private static bool SamePatches(StripRecord strip, LotEntry entry) =>
        strip.Layout.Patches.Select(p => p.Key).SequenceEqual(entry.Lot.Layout.Patches.Select(p => p.Key), StringComparer.OrdinalIgnoreCase);
}
