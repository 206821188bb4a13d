using Acquire.Domain.Sessions;

namespace Acquire.Bench.Sessions;

/// <summary>Where the lines of one bench session are kept before they are shown. A failure to keep a line is thrown to the session.</summary>
public interface ISessionJournal
{
    /// <summary>Returns when the line is durable.</summary>
    Task AppendAsync(ReceivedLine line, CancellationToken cancellationToken);
}
