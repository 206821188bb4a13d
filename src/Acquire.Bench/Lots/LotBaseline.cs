using Acquire.Analysis.StripWork;
using Acquire.Storage.Records;

namespace Acquire.Bench.Lots;

/// <summary>A reference made of the user's own strips.</summary>
/// <param name="Entry">The lot, with the new reference.</param>
/// <param name="Warning">What is not as the practice wants it; null when all is.</param>
public sealed record BaselineResult(LotEntry Entry, ImmutableArray<StripRecord> Strips, string? Warning);

/// <summary>Makes the reference of a lot for which the maker gives none.</summary>
public sealed class LotBaseline(AcquireStore store, LotBook lots, TimeProvider time)
{
    /// <summary>Averages five strips and keeps the average as the lot's reference.</summary>
    /// <param name="code">Code number of the lot.</param>
    /// <param name="given">The strips; where none are given, the last five that were read for a baseline.</param>
    /// <exception cref="BenchException">
    /// The lot is unknown or has a maker's reference, there are fewer than five strips, or one is of another lot or lacks a patch.
    /// </exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<BaselineResult> MakeAsync(string code, ImmutableArray<string> given, string by, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(code, cancellationToken);
        var lot = entry.Lot;
        if (entry.Reference is { BaselineStrips.IsEmpty: true })
        {
            throw new BenchException($"Lot {lot.Code} has a reference already. To read its reference strip anew: acquire lot reference "
                + $"{lot.Code} --instrument NAME");
        }

        if (entry.Reference is not null && given.IsEmpty)
        {
            throw new BenchException($"Lot {lot.Code} has a baseline already. To make another, name its strips with --strips.");
        }

        var strips = given.IsEmpty ? await WaitingAsync(lot.Code, cancellationToken) : await NamedAsync(given, lot.Code, cancellationToken);
        Require(entry, strips);

        // Each strip is one read of the average, so that the scatter between days is the uncertainty of the aims.
        var now = time.GetUtcNow();
        var names = string.Join(", ", strips.Select(s => StripId.ShortForm(s.Id)));
        var reference = new LotReference(
            Guid.CreateVersion7(now),
            lot.Code,
            OwnReference.Of(strips),
            new Provenance(now, by, null),
            Revision.First(
                by,
                now,
                $"baseline of {(strips.Length == OwnReference.Strips ? "five" : strips.Length.ToString(CultureInfo.InvariantCulture))} "
                + $"strips: {names}"))
        {
            BaselineStrips = [.. strips.Select(s => s.Id)],
        };
        await store.InTransactionAsync(
            writing =>
            {
                // Another program may have made a reference since this one looked.
                RequireUnchanged(lot.Code, entry.Reference, writing.CurrentReference(lot.Code));
                writing.AddReference(reference);
                return reference;
            },
            cancellationToken);
        return new BaselineResult(await lots.GetAsync(lot.Code, cancellationToken), strips, Warning(strips));
    }

    /// <summary>The last strips that were read to become a reference.</summary>
    private async Task<ImmutableArray<StripRecord>> WaitingAsync(string lot, CancellationToken cancellationToken)
    {
        var all = await store.ListStripsAsync(StripFilter.All with { LotCode = lot }, cancellationToken)
            .Where(s => s.Aims.IsEmpty && s.Tags.Reread is null)
            .ToListAsync(cancellationToken);
        return [.. all.TakeLast(OwnReference.Strips)];
    }

    private async Task<ImmutableArray<StripRecord>> NamedAsync(ImmutableArray<string> ids, string lot, CancellationToken cancellationToken)
    {
        var strips = new List<StripRecord>();
        foreach (var id in ids)
        {
            var strip = await store.GetStripAsync(id, cancellationToken);
            strips.Add(Keys.Same(strip.LotCode, lot)
                ? strip
                : throw new BenchException($"Strip {id} is of lot {strip.LotCode}; a baseline of lot {lot} needs strips of that lot."));
        }

        return [.. strips.DistinctBy(s => s.Id).OrderBy(s => s.Provenance.At)];
    }

    private static void RequireUnchanged(string lot, LotReference? seen, LotReference? now)
    {
        if ((seen?.Id, seen?.Revision.Number) != (now?.Id, now?.Revision.Number))
        {
            throw new BenchException($"Lot {lot} got another reference meanwhile, by "
                + $"{now!.Revision.By}; nothing was made. Look at it first: acquire lot show {lot}");
        }
    }

    private static void Require(LotEntry entry, ImmutableArray<StripRecord> strips)
    {
        if (strips.Length < OwnReference.Strips)
        {
            throw new BenchException(
                $"A baseline takes five strips, one on each of five days with a process known to be right; lot {entry.Lot.Code} "
                + $"has {strips.Length}. Read more: acquire read --lot {entry.Lot.Code} --baseline --instrument NAME");
        }

        var lacking =
            from strip in strips
            from patch in entry.Lot.Layout.Patches
            from channel in entry.Sheet.ChannelsNeeded
            where strip.Mean(patch.Key, channel) is null
            select $"{patch.Key} {channel.Word()} of strip {StripId.ShortForm(strip.Id)}";
        if (lacking.FirstOrDefault() is { } first)
        {
            throw new BenchException($"Every strip of a baseline needs every patch; missing: {first}. Name other strips with --strips.");
        }
    }

    private string? Warning(ImmutableArray<StripRecord> strips)
    {
        var days = strips.Select(s => TimeZoneInfo.ConvertTime(s.Provenance.At, time.LocalTimeZone).Date).Distinct().Count();
        return days >= OwnReference.Strips
            ? null
            : $"The strips were read on {(days == 1 ? "one day" : $"{days} days")}. The practice is one "
                + "strip on each of five days, so that the average holds what changes from day to day.";
    }
}
