namespace Acquire.Domain.Strips;

/// <summary>Why a read or a whole patch does not count. It stays in the record.</summary>
public sealed record Exclusion
{
    /// <summary>States a reason.</summary>
    /// <exception cref="ImpossibleValueException">The reason is empty.</exception>
    public Exclusion(string reason, DateTimeOffset at)
    {
        Reason = Guard.Text(reason, "The reason for leaving something out");
        At = at;
    }

    /// <summary>The reason in the user's words.</summary>
    public string Reason { get; }

    /// <summary>When it was left out.</summary>
    public DateTimeOffset At { get; }
}
