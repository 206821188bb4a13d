using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Processes;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Lots;

/// <param name="Sheet">The process sheet that its strips are judged by.</param>
/// <param name="InForce">Its aims, and what makes them.</param>
public sealed record LotEntry(StripLot Lot, ProcessSheet Sheet, AimsInForce InForce)
{
    /// <summary>The reference whose readings make the aims; null until it has been read.</summary>
    public LotReference? Reference => InForce.Reference;
}

/// <summary>A lot that is to be added.</summary>
/// <param name="Process">Key or name of its process sheet.</param>
public sealed record LotRequest(string Code, string Process)
{
    /// <summary>Key of the strip layout; null for the first of the process sheet.</summary>
    public string? Layout { get; init; }

    /// <summary>
    /// Correction factors as the sheet in the box has them, a patch each: <c>"PATCH R G B"</c>, in the channels that the process needs.
    /// </summary>
    public ImmutableArray<string> Factors { get; init; } = [];

    public DateOnly? Expires { get; init; }

    public string? StorageRule { get; init; }

    public string? Note { get; init; }
}

/// <summary>A lot that was added.</summary>
/// <param name="Lacking">What of the process cannot be taken of strips of its layout; null where it is the usual one.</param>
public sealed record AddedLot(StripLot Lot, string? Lacking);

/// <param name="Reference">The one in force; null until one has been read.</param>
public sealed record ListedLot(StripLot Lot, LotReference? Reference);

/// <summary>The lots in the store.</summary>
public sealed class LotBook(AcquireStore store, ProcessLibrary processes, TimeProvider time)
{
    /// <exception cref="BenchException">A factor cannot be read.</exception>
    /// <exception cref="ProcessSheetException">There is no such process sheet.</exception>
    /// <exception cref="Domain.ImpossibleValueException">There is no such layout or patch, or a value cannot be.</exception>
    /// <exception cref="StoreException">The store cannot be used, or has such a lot.</exception>
    public async Task<AddedLot> AddAsync(LotRequest request, CancellationToken cancellationToken)
    {
        var sheet = processes.Get(request.Process);
        var layout = request.Layout is { } named ? sheet.GetLayout(named) : sheet.Layouts[0];
        var lot = new StripLot(
            request.Code,
            sheet.Key,
            layout.Strip,
            [.. request.Factors.SelectMany(f => PatchValues.Factors(f, layout.Strip, sheet))],
            request.Expires,
            request.StorageRule,
            request.Note);
        await store.AddLotAsync(lot, cancellationToken);
        return new AddedLot(lot, layout == sheet.Layouts[0] ? null : ProcessNotes.NotOn(sheet, layout));
    }

    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<ListedLot>> ListAsync(CancellationToken cancellationToken)
    {
        var lots = new List<ListedLot>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            lots.Add(new ListedLot(lot, await store.CurrentReferenceAsync(lot.Code, cancellationToken)));
        }

        return [.. lots];
    }

    /// <summary>Looks a lot up as it stands.</summary>
    /// <exception cref="BenchException">There is no such lot; the message lists those there are.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotEntry> GetAsync(string code, CancellationToken cancellationToken)
    {
        var past = await PastAsync(code, cancellationToken);
        return new LotEntry(past.Lot, processes.Get(past.Lot.ProcessKey), past.Newest);
    }

    /// <summary>Looks a lot up as it stood at a moment. Where it had no reference yet, it has the first one after.</summary>
    /// <exception cref="BenchException">There is no such lot.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotEntry> GetAtAsync(string code, DateTimeOffset moment, CancellationToken cancellationToken)
    {
        var past = await PastAsync(code, cancellationToken);
        return new LotEntry(past.Lot, processes.Get(past.Lot.ProcessKey), past.At(moment));
    }

    /// <summary>All that ever made aims of a lot.</summary>
    /// <exception cref="BenchException">There is no such lot; the message lists those there are.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotPast> PastAsync(string code, CancellationToken cancellationToken)
    {
        if (await FindPastAsync(code, cancellationToken) is { } past)
        {
            return past;
        }

        var known = (await store.ListLotsAsync(cancellationToken)).Select(l => l.Code).ToList();
        var has = known.Count == 0 ? "the store has none yet" : $"the store has {string.Join(", ", known)}";
        throw new BenchException(
            $"There is no lot {code}; {has}. Add it first: acquire lot add {code} --process c41") { IsNotThere = true };
    }

    /// <summary>All that ever made aims of a lot; null when there is no such lot.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotPast?> FindPastAsync(string code, CancellationToken cancellationToken) =>
        await store.FindLotAsync(code, cancellationToken) is not { } lot
        ? null
        : new LotPast(
            lot,
            await store.ListReferencesAsync(lot.Code, cancellationToken),
            await store.ListAdjustmentsAsync(lot.Code, cancellationToken),
            new TestsInForce(await store.ListRepeatabilityTestsAsync(cancellationToken)));

    /// <summary>Keeps a reference whose densities a person entered.</summary>
    /// <param name="origin">How they came about; null where nobody says.</param>
    /// <exception cref="BenchException">The lot is unknown, or a patch or channel that the process needs is missing.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<LotReference> EnterReferenceAsync(
        string lotCode, ImmutableArray<EnteredDensities> entered, string by, string reason, CancellationToken cancellationToken,
        ReferenceOrigin? origin = null)
    {
        var (lot, sheet, _) = await GetAsync(lotCode, cancellationToken);
        var now = time.GetUtcNow();
        var patches = EnteredDensities.ToPatches(entered, lot.Layout, sheet.ChannelsNeeded, now);
        var reference = new LotReference(
            Guid.CreateVersion7(now), lot.Code, patches, new Provenance(now, by, null), Revision.First(by, now, reason))
        {
            Origin = origin,
        };
        await store.AddReferenceAsync(reference, cancellationToken);
        return reference;
    }
}

/// <summary>The densities of one patch as a person typed them.</summary>
/// <param name="Patch">Key or name of the patch.</param>
public sealed record EnteredDensities(string Patch, ChannelDensities Densities)
{
    /// <summary>Makes the reads of a strip; a patch entered several times has several reads.</summary>
    /// <exception cref="Domain.ImpossibleValueException">A patch is not in the layout.</exception>
    /// <exception cref="BenchException">A patch is missing, or a channel that is needed.</exception>
    public static ImmutableArray<PatchReads> ToPatches(
        ImmutableArray<EnteredDensities> entered, StripLayout layout, ImmutableArray<Channel> needed, DateTimeOffset at)
    {
        var byPatch = entered.ToLookup(e => layout.Get(e.Patch).Key, e => e.Densities);
        // All or nothing: a reference with a hole gives aims with a hole, found only when a strip is judged.
        var missing = layout.Patches.Where(p => !byPatch.Contains(p.Key)).Select(p => p.Key).ToList();
        if (missing.Count > 0)
        {
            throw new BenchException($"A reference needs every patch of the strip; missing: {string.Join(", ", missing)}.");
        }

        foreach (var patch in byPatch)
        {
            if (patch.Any(d => needed.Any(c => d[c] is null)))
            {
                throw new BenchException(
                    $"Patch {patch.Key} needs the densities of {string.Join(", ", needed.Select(c => c.Word()))}, in that order.");
            }
        }

        return [.. layout.Patches.Select(p =>
            new PatchReads(p, [.. byPatch[p.Key].Select(d => new PatchRead(Reading.Entered(d, at)))]))];
    }
}
