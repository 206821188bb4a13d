using Acquire.Bench.Lots;
using Acquire.Storage.Strips;

namespace Acquire.Bench.Strips;

/// <summary>What must hold before a strip is read, so that nobody reads fifteen patches in vain.</summary>
internal static class StripChecks
{
    public static void Require(LotEntry entry, StripTags tags)
    {
        var lot = entry.Lot;
        if (tags.Reread is { } first)
        {
            RequireSame(first, entry);
            return;
        }

        if (tags.PairedWith is { } other && IsOf(other, lot.Code))
        {
            throw new BenchException(
                $"A pair is a strip of the old lot and one of the new, processed together; strip {StripId.ShortForm(other.Id)} is of lot {lot.Code} too.");
        }

        if (tags.Confirms is { } out_ && !SamePatches(out_, entry))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(out_.Id)} has other patches than those of lot {lot.Code}, so a strip of that lot cannot confirm it.");
        }

        switch (entry.Reference, tags.ForBaseline)
        {
            case (null, false):
                throw new BenchException(
                    $"Lot {lot.Code} has no reference yet, so there are no aims to judge by. Read the reference strip first: "
                    + $"acquire lot reference {lot.Code} --port PORT --profile PROFILE. Where the maker gives none, read five strips with --baseline.");
            case ({ BaselineStrips.IsEmpty: true }, true):
                throw new BenchException($"Lot {lot.Code} has a reference, so its strips are judged by it. Leave --baseline out.");
        }
    }

    private static void RequireSame(StripRecord first, LotEntry entry)
    {
        if (!IsOf(first, entry.Lot.Code))
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(first.Id)} is of lot {first.LotCode}; the same strip cannot be of lot {entry.Lot.Code}. Leave --lot out.");
        }

        if (!SamePatches(first, entry))
        {
            throw new BenchException($"Strip {StripId.ShortForm(first.Id)} was read with other patches than lot {entry.Lot.Code} has now.");
        }
    }

    private static bool IsOf(StripRecord strip, string lot) => string.Equals(strip.LotCode, lot, StringComparison.OrdinalIgnoreCase);

    private static bool SamePatches(StripRecord strip, LotEntry entry) =>
        strip.Layout.Patches.Select(p => p.Key).SequenceEqual(entry.Lot.Layout.Patches.Select(p => p.Key), StringComparer.OrdinalIgnoreCase);
}
