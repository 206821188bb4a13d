using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Inspection;

/// <summary>Reading what may be damaged: whatever goes wrong is a finding, and the look goes on with the next thing.</summary>
internal static class Attempt
{
    public static IReadOnlyList<StoreFinding> Of(string what, Func<IEnumerable<StoreFinding>> look)
    {
        try
        {
            return [.. look()];
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 5 or 6)
        {
            // Another program's lock is no damage.
            throw;
        }
        catch (Exception e) when (e is not OperationCanceledException and not OutOfMemoryException)
        {
            var kind = e is SqliteException { SqliteErrorCode: 11 or 26 } ? StoreFindingKind.Damaged : StoreFindingKind.Unreadable;
            return [new StoreFinding(kind, $"{what} cannot be read: {e.Message}")];
        }
    }
}
