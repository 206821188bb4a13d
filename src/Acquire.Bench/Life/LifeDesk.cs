using Acquire.Analysis.Life;
using Acquire.Bench.History;

namespace Acquire.Bench.Life;

/// <summary>What is asked of the life of a kind of solution; what is null does not restrict.</summary>
public sealed record LifeAsked(HistoryFilter Filter)
{
    /// <summary>The kind; null for the developer.</summary>
    public SolutionKind? Kind { get; init; }

    /// <summary>The way of keeping, in its own words or some of them between commas; null for the commonest.</summary>
    public string? Storage { get; init; }

    /// <summary>The bottle whose standing is asked for; null for all in use.</summary>
    public string? Bottle { get; init; }

    /// <summary>storage, line or method; null for all that differ.</summary>
    /// <exception cref="BenchException">It is another word.</exception>
    public string? Compare
    {
        get;
        init => field = value is null ? null : LifeComparison.Factors.FirstOrDefault(f => Keys.Same(f, value))
            ?? throw new BenchException($"'{value}' cannot be compared; expected method, line or storage.");
    }

    /// <summary>The difference of density that a comparison is to show; null for half of the action limit.</summary>
    /// <exception cref="BenchException">It is none that strips can show.</exception>
    public double? See
    {
        get;
        init => field = value is null or (> 0 and <= 4) ? value
            : throw new BenchException("--see takes a difference of density above 0, such as 0.03.");
    }

    /// <summary>Ids of strips that are left out, as something else had happened to them.</summary>
    public ImmutableArray<string> Without { get; init; } = [];
}

/// <summary>How long solutions last here, by the strips in the store.</summary>
public sealed class LifeDesk(AcquireStore store, TimeProvider time)
{
    /// <exception cref="BenchException">There is no such strip, storage or bottle, or the bottle is of another kind or process.</exception>
    /// <exception cref="Analysis.Statistics.ModelException">A comparison is asked for that the strips do not allow.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<SolutionLife> AskAsync(LifeAsked asked, CancellationToken cancellationToken)
    {
        var history = await StripHistory.LoadAsync(store, asked.Filter, time, cancellationToken)
            ?? throw new BenchException("There is no such strip to tell a life by. See: acquire strip list") { IsNotThere = true };
        foreach (var id in asked.Without)
        {
            var left = await store.GetStripAsync(id, cancellationToken);
            history = history.Only([.. history.Strips.Index().Where(p => p.Item.StripId != left.Id).Select(p => p.Index)]);
        }

        return SolutionLife.Of(history, asked, time);
    }
}
