using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.History;

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
