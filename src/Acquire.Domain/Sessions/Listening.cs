namespace Acquire.Domain.Sessions;

/// <summary>A time during which a service listens to an instrument while nobody reads with it.</summary>
/// <param name="Id">UUID v7.</param>
/// <param name="Instrument">The instrument's name.</param>
/// <param name="Port">The port, as the instrument has it.</param>
/// <param name="Profile">The profile its lines are read by.</param>
public sealed record Listening(Guid Id, string Instrument, string Port, ProfileText Profile, DateTimeOffset BeganAt);

/// <summary>Which loose reading: one that came while no session ran.</summary>
/// <param name="Sequence">The number of the listening's entry that completed it.</param>
/// <param name="Part">Which of the readings that this entry completed, from 1.</param>
public readonly record struct LooseId(Guid Listening, int Sequence, int Part)
{
    /// <summary>For example <c>0196…-12.1</c>.</summary>
    public override string ToString() => FormattableString.Invariant($"{Listening:N}-{Sequence}.{Part}");

    /// <summary>Reads what <see cref="ToString"/> writes; null when it is nothing of the kind.</summary>
    public static LooseId? Parse(string text)
    {
        string[] parts = text.Split('-', '.');
        return parts.Length == 3
            && Guid.TryParseExact(parts[0], "N", out var listening)
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var sequence)
            && int.TryParse(parts[2], NumberStyles.None, CultureInfo.InvariantCulture, out var part)
            ? new LooseId(listening, sequence, part)
            : null;
    }
}
