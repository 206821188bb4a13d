namespace Acquire.Domain;

/// <summary>When, by whom and with what something was read.</summary>
/// <param name="At">When the reading began.</param>
/// <param name="Instrument">The instrument; null when the values were entered by hand.</param>
public sealed record Provenance(DateTimeOffset At, string By, InstrumentInUse? Instrument);

/// <summary>Which instrument gave the readings, as far as the program knows it.</summary>
/// <param name="Profile">Name of the device profile.</param>
/// <param name="ProfileHash">SHA-256 of the profile's text, hexadecimal, so that a changed profile is told apart.</param>
/// <param name="Port">The port it was read on, as the user named it; <c>file:NAME</c> for readings that came in a file.</param>
public sealed record InstrumentInUse(string Profile, string ProfileHash, string Port)
{
    private readonly string? _name;

    /// <summary>The instrument's name; the profile's where nobody gave it one, as in records from before instruments had names.</summary>
    public string Name
    {
        get => _name ?? Profile;
        // One instrument has one spelling, so that records that say the same are the same.
        init => _name = string.IsNullOrWhiteSpace(value) || value.Trim() == Profile ? null : value.Trim();
    }
}

/// <summary>Records are append-only: a correction is a new revision with who, when and why.</summary>
public sealed record Revision
{
    /// <exception cref="ImpossibleValueException">The number is below 1, or who or why is empty.</exception>
    public Revision(int number, string by, DateTimeOffset at, string reason)
    {
        Number = number >= 1 ? number : throw new ImpossibleValueException("Revisions count from 1.");
        By = Guard.Text(by, "The person of a revision");
        At = at;
        Reason = Guard.Text(reason, "The reason of a revision");
    }

    /// <summary>1 for the first.</summary>
    public int Number { get; }

    public string By { get; }

    public DateTimeOffset At { get; }

    public string Reason { get; }

    /// <summary>The revision that a record begins with.</summary>
    public static Revision First(string by, DateTimeOffset at, string reason) => new(1, by, at, reason);

    public Revision Next(string by, DateTimeOffset at, string reason) => new(Number + 1, by, at, reason);
}
