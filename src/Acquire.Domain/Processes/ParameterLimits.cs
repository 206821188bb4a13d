namespace Acquire.Domain.Processes;

/// <summary>The action and the control limit of one parameter. Either may be absent: the user fills it from the sheet in the box.</summary>
public sealed record ParameterLimits
{
    /// <summary>No limits: the parameter is charted without a zone.</summary>
    public static ParameterLimits None { get; } = new(null, null);

    /// <summary>States the limits.</summary>
    /// <exception cref="ImpossibleValueException">The control limit lies inside the action limit on some side.</exception>
    public ParameterLimits(Limit? action, Limit? control)
    {
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
