using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Support;

/// <summary>Sessions as versions wrote them that kept no plan.</summary>
internal static class OldSessions
{
    public static Task BeginSessionAsync(this AcquireStore store, BenchSession session, CancellationToken cancellationToken) =>
        store.WriteAsync(
            db =>
            {
                SessionTables.Begin(db, session);
                return session.Id;
            },
            cancellationToken);
}
