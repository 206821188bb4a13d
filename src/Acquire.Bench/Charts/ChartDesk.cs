using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Bench.History;

namespace Acquire.Bench.Charts;

/// <summary>What is to be charted.</summary>
public sealed record ChartAsked(HistoryFilter Filter)
{
    public ChartAxis Axis { get; init; } = ChartAxis.Date;

    /// <summary>Keys of the parameters; empty for all.</summary>
    public ImmutableArray<string> Parameters { get; init; } = [];
}

/// <summary>What charts are drawn against, as people say it.</summary>
public static class ChartAxisWords
{
    /// <exception cref="BenchException">It is no such word.</exception>
    public static ChartAxis Parse(string? text) => text?.ToUpperInvariant() switch
    {
        "DATE" => ChartAxis.Date,
        "AGE" => ChartAxis.AgeOfMix,
        "OPEN" => ChartAxis.DaysOpen,
        "AREA" => ChartAxis.AreaPerLitre,
        _ => throw new BenchException($"'{text}' is no axis; expected date, age, open or area."),
    };
}

/// <summary>A chart, to be drawn by whoever asked.</summary>
public sealed record ChartAnswer(ChartModel Model)
{
    /// <summary>Why there is nothing to draw; null when there is something.</summary>
    public string? WhyEmpty => Model.Strips > 0 ? null : string.Join(' ', Model.Notes.Prepend("No strip has a place on this axis."));
}

/// <summary>Charts of the strips in the store.</summary>
public sealed class ChartDesk(AcquireStore store, TimeProvider time)
{
    /// <exception cref="BenchException">There is no such strip.</exception>
    /// <exception cref="ImpossibleValueException">The process has no such parameter.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ChartAnswer> AskAsync(ChartAsked asked, CancellationToken cancellationToken)
    {
        var history = await StripHistory.LoadAsync(store, asked.Filter, time, cancellationToken)
            ?? throw new BenchException("There is no such strip to chart. See: acquire strip list") { IsNotThere = true };
        var model = Of(history, history.MovementsOf(history.Strips).Findings, asked);
        // Parameters of two processes do not fit one chart; that some strips were left out for it must not go unseen.
        return new ChartAnswer(history.OfOtherProcesses == 0 ? model : model with
        {
            Notes = model.Notes.Add(
                $"{Numbers.Count(history.OfOtherProcesses, "strip")} of other processes left out; --process chooses one."),
        });
    }

    /// <summary>The chart of a history that is loaded already.</summary>
    /// <param name="findings">What moved, as its asker looked at it: over all strips, or line by line.</param>
    /// <param name="asked">Axis and parameters; null for all parameters against date.</param>
    internal static ChartModel Of(StripHistory history, ImmutableArray<DriftFinding> findings, ChartAsked? asked = null) =>
        ChartModel.Of(new ChartRequest(history.Sheet, history.Strips)
        {
            Axis = asked?.Axis ?? ChartAxis.Date,
            Parameters = asked?.Parameters ?? [],
            Events = history.Events,
            Findings = findings,
            VerdictOf = (_, result) => result.Verdict?.Verdict,
        });
}
