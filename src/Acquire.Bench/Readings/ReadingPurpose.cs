using Acquire.Analysis.Plausibility;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Readings;

/// <summary>A reading that has ended or was broken off.</summary>
/// <param name="Kept">What it gave; null when the session did not complete.</param>
public sealed record ReadingResult<TKept>(SessionResult Session, TKept? Kept)
    where TKept : KeptReading;

/// <summary>A reading that may begin.</summary>
/// <param name="Plan">All that its session needs to be finished, settled now.</param>
/// <param name="Of">The lot or the plaque that is read; empty where none is.</param>
internal sealed record PlannedReading(SessionPlan Plan, string Of);

/// <summary>
/// What a guided reading is for. A purpose says what is held against the readings and what is made of them when all is read; both from the
/// session alone, so that one that was broken off ends as it would have ended.
/// </summary>
internal abstract class ReadingPurpose
{
    public abstract SessionPurpose Purpose { get; }

    public abstract SessionKind Kind { get; }

    /// <summary>What is known of the strip, as it was in force when the session began; null where nothing is to be asked.</summary>
    public virtual Task<StripKnowledge?> KnowledgeAsync(OpenSession session, CancellationToken cancellationToken) =>
        Task.FromResult<StripKnowledge?>(null);

    /// <summary>
    /// Makes the record that the session came for. What it gives writes the record and what belongs to it, in the transaction that ends the
    /// session. Not cancellable: what was read is worth the moment it takes.
    /// </summary>
    /// <exception cref="Analysis.Gauge.GaugeException">No record can be made of what was read.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public abstract Task<Func<StoreTransaction, KeptReading>> MakeAsync(OpenSession session, ImmutableArray<PatchReads> patches);
}

/// <summary>The same with what it is asked for and what it gives.</summary>
internal abstract class ReadingPurpose<TRequest, TKept> : ReadingPurpose
    where TKept : KeptReading
{
    /// <summary>
    /// Looks up what is asked for, tells what the user should know first, and settles everything before anything is read.
    /// </summary>
    /// <exception cref="BenchException">It cannot be read as asked.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public abstract Task<PlannedReading> PlanAsync(
        TRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken);

    public sealed override async Task<Func<StoreTransaction, KeptReading>> MakeAsync(
        OpenSession session, ImmutableArray<PatchReads> patches) =>
        await KeepAsync(session, patches);

    protected abstract Task<Func<StoreTransaction, TKept>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches);
}
