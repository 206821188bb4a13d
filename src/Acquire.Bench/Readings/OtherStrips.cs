using Acquire.Bench.Lots;

namespace Acquire.Bench.Readings;

/// <summary>
/// The other strips that a strip names, and what must hold of them before it is read, so that nobody reads fifteen patches in vain.
/// </summary>
internal sealed record OtherStrips(StripRecord? Reread, StripRecord? Confirms, StripRecord? PairedWith)
{
    /// <exception cref="BenchException">A strip is not there.</exception>
    public static async Task<OtherStrips> FindAsync(AcquireStore store, StripTags tags, CancellationToken cancellationToken)
    {
        return new OtherStrips(await OneAsync(tags.Reread?.Of), await OneAsync(tags.Confirms), await OneAsync(tags.PairedWith));

        async Task<StripRecord?> OneAsync(Guid? id) =>
            id is { } given ? await store.GetStripAsync(given.ToString(), cancellationToken) : null;
    }

    /// <exception cref="BenchException">The strip cannot be what is said of it.</exception>
    public void Require(LotEntry entry, bool forBaseline)
    {
        var lot = entry.Lot;
        if (Reread is { } first)
        {
            RequireSame(first, entry);
            return;
        }

        if (PairedWith is { } other && Keys.Same(other.LotCode, lot.Code))
        {
            throw new BenchException(
                "A pair is a strip of the old lot and one of the new, processed together; "
                + $"strip {StripId.ShortForm(other.Id)} is of lot {lot.Code} too.");
        }

        if (Confirms is { } outside && !SamePatches(outside, entry))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(outside.Id)} has other patches than those "
                + $"of lot {lot.Code}, so a strip of that lot cannot confirm it.");
        }

        switch (entry.Reference, forBaseline)
        {
            case (null, false):
                throw new BenchException(
                    $"Lot {lot.Code} has no reference yet, so there are no aims to judge by. Read the "
                    + $"reference strip first: acquire lot reference {lot.Code} --port PORT --profile "
                    + "PROFILE. Where the maker gives none, read five strips with --baseline.");
            case ({ BaselineStrips.IsEmpty: true }, true):
                throw new BenchException($"Lot {lot.Code} has a reference, so its strips are judged by it. Leave --baseline out.");
        }
    }

    private static void RequireSame(StripRecord first, LotEntry entry)
    {
        if (!Keys.Same(first.LotCode, entry.Lot.Code))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(first.Id)} is of lot {first.LotCode}; the "
                + $"same strip cannot be of lot {entry.Lot.Code}. Leave --lot out.");
        }

        if (!SamePatches(first, entry))
        {
            throw new BenchException($"Strip {StripId.ShortForm(first.Id)} was read with other patches than lot {entry.Lot.Code} has now.");
        }
    }

    private static bool SamePatches(StripRecord strip, LotEntry entry) =>
        strip.Layout.Patches.Select(p => p.Key).SequenceEqual(
            entry.Lot.Layout.Patches.Select(p => p.Key), StringComparer.OrdinalIgnoreCase);
}
