using Acquire.Bench.Sessions;

namespace Acquire.Rendering.Sessions;

/// <summary>Says before something is read that a session of the same was broken off and can be gone on with; it blocks nothing.</summary>
internal static class UnfinishedNote
{
    /// <param name="surroundings">Where it is said.</param>
    /// <param name="store">The store.</param>
    /// <param name="purpose">What is to be read.</param>
    /// <param name="of">Its lot or plaque; empty where there is none.</param>
    /// <param name="cancellationToken">Cancels.</param>
    public static async Task WriteAsync(
        Surroundings surroundings, AcquireStore store, SessionPurpose purpose, string of, CancellationToken cancellationToken)
    {
        foreach (var stored in await new SessionBook(store, surroundings.Time).UnfinishedAsync(cancellationToken))
        {
            var session = stored.Session;
            if (stored.Purpose == purpose && string.Equals(session.LotCode ?? session.PlaqueName ?? "", of, StringComparison.OrdinalIgnoreCase))
            {
                var id = SessionWords.ShortId(session.Id);
                surroundings.Error.Line(
                    $"A session ({SessionWords.Of(stored)}, begun {Numbers.Moment(session.Provenance.At, surroundings.Time)}, "
                    + $"{Numbers.Count(stored.Lines, "line")}) was broken off. Go on with it: acquire resume {id}; or end it: acquire session discard {id}");
            }
        }
    }
}
