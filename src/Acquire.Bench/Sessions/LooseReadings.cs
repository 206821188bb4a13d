namespace Acquire.Bench.Sessions;

/// <summary>
/// A reading that came while no session ran. It is kept, and goes into a session only when somebody decides so.
/// </summary>
/// <param name="Entries">What came of it, from the opening of a link to its end, by which it is read again.</param>
/// <param name="TakenBy">The session it was taken into; null when it was not.</param>
public sealed record LooseReading(LooseId Id, string Instrument, Reading Reading, ImmutableArray<JournalEntry> Entries, Guid? TakenBy);

/// <summary>Loose readings that are to be the first of a session, in the order in which they came.</summary>
/// <param name="Entries">What came of them.</param>
/// <param name="Ids">Which they are.</param>
public sealed record LooseReadings(ImmutableArray<JournalEntry> Entries, ImmutableArray<LooseId> Ids)
{
    /// <summary>All of some readings.</summary>
    public static LooseReadings Of(IReadOnlyCollection<LooseReading> readings) =>
        new([.. readings.SelectMany(r => r.Entries)], [.. readings.Select(r => r.Id)]);

    internal void MarkTaken(StoreTransaction writing, Guid sessionId)
    {
        foreach (var id in Ids)
        {
            writing.TakeLoose(id, sessionId);
        }
    }
}
