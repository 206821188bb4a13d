namespace Acquire.Domain.Books;

/// <summary>A line at a moment: the method in force and what it has processed.</summary>
public sealed record LineState
{
    private LineState(ProcessLine line) => Line = line;

    /// <summary>The line.</summary>
    public ProcessLine Line { get; }

    /// <summary>How film or solution is moved; null when never noted.</summary>
    public string? Agitation { get; private init; }

    /// <summary>Temperature of the developer in °C; null when never noted.</summary>
    public double? Temperature { get; private init; }

    /// <summary>Time in the developer; null when never noted.</summary>
    public TimeSpan? Time { get; private init; }

    /// <summary>Since when the method has been what it is; null when none was noted.</summary>
    public DateTimeOffset? MethodSince { get; private init; }

    /// <summary>Area of film it has processed, in m².</summary>
    public double AreaUsed { get; private init; }

    /// <summary>When it was used last; null when never.</summary>
    public DateTimeOffset? LastUsed { get; private init; }

    internal static LineState Of(ProcessLine line, IEnumerable<BookEntry> until) =>
        until.Aggregate(new LineState(line), (state, entry) => entry switch
        {
            LineMethod method when method.LineId == line.Id => state with
            {
                Agitation = method.Agitation ?? state.Agitation,
                Temperature = method.Temperature ?? state.Temperature,
                Time = method.Time ?? state.Time,
                MethodSince = method.HappenedAt,
            },
            FilmUse use when use.LineId == line.Id => state with { AreaUsed = state.AreaUsed + use.Area, LastUsed = use.HappenedAt },
            _ => state,
        });
}
