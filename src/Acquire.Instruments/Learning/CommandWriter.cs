using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Writes the commands of a profile, and what its instrument says of itself.</summary>
internal static class CommandWriter
{
    /// <summary>The section's value, or null where nothing may be sent. Times are always written.</summary>
    public static string? Write(ProfileCommands commands)
    {
        var entries = new List<string>();
        if (!commands.AfterOpening.IsEmpty)
        {
            var list = commands.AfterOpening.Select(
                c => FormattableString.Invariant($"{{ {Send(c.Bytes)}, \"thenWaitMs\": {c.ThenWait.TotalMilliseconds} }}"));
            entries.Add($"\"afterOpening\": [{string.Join(", ", list)}]");
        }

        if (commands.Trigger is { } trigger)
        {
            entries.Add($"\"trigger\": {{ {Send(trigger.Bytes)}, {Within(trigger.Within)} }}");
        }

        if (commands.Identify is { } identify)
        {
            var answer = ProfileWriter.Text(identify.Answer.Text);
            entries.Add($"\"identify\": {{ {Send(identify.Bytes)}, \"answer\": {answer}, {Within(identify.Within)} }}");
        }

        return entries.Count == 0 ? null : $"{{\n    {string.Join(",\n    ", entries)}\n  }}";
    }

    public static string Identity(InstrumentIdentity identity)
    {
        var said = InstrumentIdentity.Places.Where(p => identity[p] is not null)
            .Select(p => $"\"{p}\": {ProfileWriter.Text(identity[p]!)}");
        return $"{{ {string.Join(", ", said)} }}";
    }

    private static string Send(ImmutableArray<byte> bytes) => $"\"send\": {ProfileWriter.Text(ByteText.Of(bytes.AsSpan()))}";

    private static string Within(TimeSpan time) => FormattableString.Invariant($"\"withinMs\": {time.TotalMilliseconds}");
}
