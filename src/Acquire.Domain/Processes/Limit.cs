namespace Acquire.Domain.Processes;

/// <summary>A tolerance for a deviation: one- or two-sided, in density, with the source of its numbers.</summary>
public sealed record Limit
{
    /// <summary>Binary arithmetic makes 1.32 − 1.26 a hair more than 0.06. A deviation
    /// this close to a limit is on it, and on it is inside.</summary>
    private const double Hair = 1e-9;

    /// <exception cref="ImpossibleValueException">Neither side is given, a side is not finite, the sides are out of order or do
    /// not hold zero between them, or no source is named.</exception>
    public Limit(double? lower, double? upper, string source)
    {
        Guard.That(lower is not null || upper is not null, "A limit needs a lower or an upper side.");
        // Bounded, as a limit of an absurd size would judge every strip to be in control.
        Lower = lower is { } l ? Guard.Sane(l, "A lower limit") : null;
        Upper = upper is { } u ? Guard.Sane(u, "An upper limit") : null;
        if (Lower > 0 || Upper < 0)
        {
            throw new ImpossibleValueException($"A limit holds the aim, a deviation of 0, but {this} does not.");
        }

        Source = Guard.Text(source, "The source of a limit");
    }

    /// <summary>The least deviation inside the limit; null when the limit has no lower side.</summary>
    public double? Lower { get; }

    /// <summary>The largest deviation inside the limit; null when the limit has no upper side.</summary>
    public double? Upper { get; }

    /// <summary>Where the numbers come from, in words the user can judge.</summary>
    public string Source { get; }

    /// <summary>Whether a deviation is inside; on the limit is inside.</summary>
    public bool Holds(double deviation) =>
        (Lower is not { } lower || deviation >= lower - Hair) && (Upper is not { } upper || deviation <= upper + Hair);

    /// <summary>Whether this limit lies inside the other anywhere, so that a deviation could pass this one before the other.</summary>
    internal bool IsTighterThan(Limit other) =>
        (Upper is { } u && (other.Upper is not { } ou || u < ou)) || (Lower is { } l && (other.Lower is not { } ol || l > ol));

    /// <summary>For example <c>±0.06</c>, <c>+0.03</c> or <c>-0.05 … +0.08</c>.</summary>
    public override string ToString() => (Lower, Upper) switch
    {
        ({ } l, { } u) when -l == u => FormattableString.Invariant($"±{u:0.00##}"),
        ({ } l, { } u) => FormattableString.Invariant($"{l:+0.00##;-0.00##} … {u:+0.00##;-0.00##}"),
        ({ } l, null) => FormattableString.Invariant($"{l:+0.00##;-0.00##}"),
        (null, { } u) => FormattableString.Invariant($"{u:+0.00##;-0.00##}"),
        _ => "none",
    };
}

/// <summary>The action and the control limit of one parameter. Either may be absent: the user fills it from the sheet in the box.</summary>
public sealed record ParameterLimits
{
    /// <summary>No limits: the parameter is charted without a zone.</summary>
    public static ParameterLimits None { get; } = new(null, null);

    /// <exception cref="ImpossibleValueException">The control limit lies inside the action limit on some side.</exception>
    public ParameterLimits(Limit? action, Limit? control)
    {
        // Otherwise a deviation could stop the process before anybody is told to look.
        if (action is not null && control is not null && control.IsTighterThan(action))
        {
            throw new ImpossibleValueException($"The control limit {control} lies inside the action limit {action}.");
        }

        (Action, Control) = (action, control);
    }

    /// <summary>Past it: look for the cause. Null when there is none.</summary>
    public Limit? Action { get; }

    /// <summary>Past it: stop. Null when there is none.</summary>
    public Limit? Control { get; }

    /// <summary>Whether neither limit is set.</summary>
    public bool AreEmpty => Action is null && Control is null;

    /// <summary>The zone of a deviation by plain comparison; null when no limit is set.</summary>
    public Zone? ZoneOf(double deviation) => this switch
    {
        { Action: null, Control: null } => null,
        { Control: { } control } when !control.Holds(deviation) => Zone.Out,
        { Action: { } action } when !action.Holds(deviation) => Zone.Action,
        _ => Zone.Inside,
    };
}

/// <summary>Where a deviation lies by the trade's plain comparison, uncertainty not counted.</summary>
public enum Zone
{
    /// <summary>Within the action limit.</summary>
    Inside,

    /// <summary>Past the action limit, within the control limit.</summary>
    Action,

    /// <summary>Past the control limit.</summary>
    Out,
}

public static class Zones
{
    /// <summary>The zone in a word; null is where no limit is set.</summary>
    public static string Word(this Zone? zone) => zone switch
    {
        Zone.Inside => "inside",
        Zone.Action => "action",
        Zone.Out => "out",
        _ => "no limit",
    };
}
