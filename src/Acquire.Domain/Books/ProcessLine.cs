namespace Acquire.Domain.Books;

public enum LineKind
{
    /// <summary>Anything else.</summary>
    Other,

    /// <summary>A deep tank into which racks or reels are lowered.</summary>
    DipTank,

    /// <summary>A drum that turns in a water bath.</summary>
    Rotary,

    /// <summary>A small machine that moves film through its baths by itself.</summary>
    BenchTopMachine,

    /// <summary>A hand-held tank that is turned over.</summary>
    Inversion,
}

/// <summary>A tank or processor; its time is when it came into use.</summary>
public sealed record ProcessLine : BookEntry
{
    /// <exception cref="ImpossibleValueException">There is no name or process.</exception>
    public ProcessLine(EntryStamp stamp, string name, LineKind kind, string processKey)
        : base(stamp)
    {
        Name = Guard.Text(name, "The name of a process line");
        Kind = kind;
        ProcessKey = Guard.Text(processKey, "The process of a line");
    }

    /// <summary>The user's name for it.</summary>
    public string Name { get; }

    public LineKind Kind { get; }

    /// <summary>Key of the process sheet, such as <c>c41</c>.</summary>
    public string ProcessKey { get; }
}

/// <summary>A change of a line's method. What it does not name stays as it was.</summary>
public sealed record LineMethod : BookEntry
{
    /// <exception cref="ImpossibleValueException">Nothing is named, or a temperature or time cannot be.</exception>
    public LineMethod(EntryStamp stamp, Guid lineId, string? agitation, double? temperature, TimeSpan? time)
        : base(stamp)
    {
        LineId = lineId;
        Agitation = agitation is null ? null : Guard.Text(agitation, "The agitation of a method");
        Temperature = Liquid.Temperature(temperature, "The temperature of a method");
        Time = time is null || (time > TimeSpan.Zero && time <= TimeSpan.FromHours(24))
            ? time
            : throw new ImpossibleValueException($"A developing time of {time} cannot be; it is above zero and a day at most.");
        Guard.That(
            Agitation is not null || Temperature is not null || Time is not null,
            "A method names agitation, temperature or time, or more than one of them.");
    }

    public Guid LineId { get; }

    /// <summary>How film or solution is moved; null when it stays as it was.</summary>
    public string? Agitation { get; }

    /// <summary>Temperature of the developer in °C; null when it stays as it was.</summary>
    public double? Temperature { get; }

    /// <summary>Time in the developer; null when it stays as it was.</summary>
    public TimeSpan? Time { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [LineId];
}

/// <summary>A line at a moment: the method in force and what it has processed.</summary>
public sealed record LineState
{
    private LineState(ProcessLine line) => Line = line;

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
                // A method names what was changed; the rest goes on as it was.
                Agitation = method.Agitation ?? state.Agitation,
                Temperature = method.Temperature ?? state.Temperature,
                Time = method.Time ?? state.Time,
                MethodSince = method.HappenedAt,
            },
            FilmUse use when use.LineId == line.Id => state with { AreaUsed = state.AreaUsed + use.Area, LastUsed = use.HappenedAt },
            _ => state,
        });
}
