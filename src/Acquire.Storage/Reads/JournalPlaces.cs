using Acquire.Storage.Sessions;

namespace Acquire.Storage.Reads;

/// <summary>
/// Finds the line of a session's journal that a raw line of a record is: the same bytes, received at the same time. Two lines that are
/// alike in both are told apart by their order.
/// </summary>
internal sealed class JournalPlaces
{
    private readonly Dictionary<(string Bytes, DateTimeOffset At), Queue<int>> _places = [];

    public JournalPlaces(Db db, Guid? sessionId)
    {
        SessionId = Sql.Id(sessionId);
        foreach (var line in sessionId is { } id ? LineTable.Of(db, id) : [])
        {
            var key = Key(line.Line);
            if (!_places.TryGetValue(key, out var queue))
            {
                _places[key] = queue = new Queue<int>();
            }

            queue.Enqueue(line.Sequence);
        }
    }

    public string? SessionId { get; }

    /// <summary>The line's number in the session; null when the session has no such line (left).</summary>
    public int? Take(RawLine line) => _places.TryGetValue(Key(line), out var queue) && queue.TryDequeue(out var sequence) ? sequence : null;

    private static (string Bytes, DateTimeOffset At) Key(RawLine line) => (Convert.ToHexString(LineTable.Bytes(line)), line.ReceivedAt);
}
