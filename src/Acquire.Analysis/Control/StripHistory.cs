using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Control;

/// <summary>One judged strip in a history, with what the books tell of its day.</summary>
public sealed record StripPoint
{
    /// <summary>Id of the strip record.</summary>
    public required Guid StripId { get; init; }

    /// <summary>When it was processed.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Code number of its lot.</summary>
    public required string Lot { get; init; }

    /// <summary>Its deviations.</summary>
    public required StripJudgement Judgement { get; init; }

    /// <summary>The process line; null when not told.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle; null when not told.</summary>
    public string? Bottle { get; init; }

    /// <summary>The mix that the bottle holds; null when the books do not know it.</summary>
    public string? Solution { get; init; }

    /// <summary>How the bottle is kept, in a few words that are the same for bottles kept alike; null when not known.</summary>
    public string? Storage { get; init; }

    /// <summary>The method of the line in force, in a few words; null when not known.</summary>
    public string? Method { get; init; }

    /// <summary>Days since the solution was mixed; null when not known.</summary>
    public double? AgeDays { get; init; }

    /// <summary>Days since the bottle was first opened; null when not known.</summary>
    public double? OpenDays { get; init; }

    /// <summary>Film area that has gone through the solution before this strip, in m² per litre; null when not known.</summary>
    public double? AreaPerLitre { get; init; }
}

/// <summary>The deviations of a history, series by series.</summary>
public static class HistorySeries
{
    /// <summary>One series for each parameter and channel that has a deviation, in the order of the strips.</summary>
    public static ImmutableDictionary<SeriesKey, ImmutableArray<SeriesEntry>> Of(IEnumerable<StripPoint> strips) => strips
        .SelectMany(s => s.Judgement.Results, (strip, result) => (strip, result))
        .Where(p => p.result.Deviation is not null)
        .GroupBy(p => new SeriesKey(p.result.Parameter.Key, p.result.Channel))
        .ToImmutableDictionary(
            g => g.Key,
            g => g.Select(p => new SeriesEntry(
                p.strip, p.result.Deviation!.Value, p.result.LeastReadingUncertainty ?? p.result.ReadingUncertainty ?? 0))
                    .ToImmutableArray());
}

/// <summary>One value of a series of deviations.</summary>
/// <param name="Strip">The strip it is of.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="ReadingUncertainty">Standard uncertainty of reading the strip alone, as far as it was seen and not assumed. The aim's part
/// is the same for every strip of a lot, so it counts in a verdict and is no scatter.</param>
public sealed record SeriesEntry(StripPoint Strip, double Deviation, double ReadingUncertainty);

/// <summary>What one line on a chart is of.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
public readonly record struct SeriesKey(string ParameterKey, Channel? Channel);
