using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Files;

/// <summary>Turns what goes wrong below into what the user can act on.</summary>
internal static class StoreFaults
{
    /// <summary>The exception to throw to a caller; one that is for callers already stays as it is.</summary>
    public static Exception Translate(Exception exception, string file) => exception switch
    {
        StoreException or OperationCanceledException or ImportException => exception,
        SqliteException sqlite => Of(sqlite, file),
        FormatException or ImpossibleValueException or System.Text.Json.JsonException => new StoreException(
            StoreFault.Damaged,
            $"{file}: a stored value cannot be read ({exception.Message}). Another program may have changed it; restore a backup.",
            exception),
        IOException or UnauthorizedAccessException => new StoreException(
            StoreFault.CannotOpen,
            $"{file}: the file cannot be used: {exception.Message} Check the folder and its permissions.", exception),
        _ => new StoreException(StoreFault.Unexpected, $"{file}: {exception.Message}", exception),
    };

    /// <summary>
    /// The fault of a primary result code of SQLite. Source: sqlite.org/rescode.html.
    /// </summary>
    public static StoreFault FaultOf(int primaryCode) => primaryCode switch
    {
        3 or 8 or 23 => StoreFault.ReadOnly,
        5 or 6 => StoreFault.Busy,
        10 => StoreFault.DiskFailure,
        11 => StoreFault.Damaged,
        13 => StoreFault.DiskFull,
        14 => StoreFault.CannotOpen,
        19 => StoreFault.Refused,
        26 => StoreFault.NotADatabase,
        _ => StoreFault.Unexpected,
    };

    /// <summary>Whether a connection is not to be trusted after such a fault, so that a new one must be opened.</summary>
    public static bool BreaksConnection(StoreFault fault) =>
        fault is StoreFault.ReadOnly or StoreFault.DiskFailure or StoreFault.Damaged or StoreFault.CannotOpen or StoreFault.NotADatabase;

    private static StoreException Of(SqliteException exception, string file)
    {
        var fault = FaultOf(exception.SqliteErrorCode);
        return new StoreException(fault, $"{file}: {Words(fault, exception)}", exception);
    }

    private static string Words(StoreFault fault, SqliteException exception) => fault switch
    {
        StoreFault.ReadOnly =>
            "the file cannot be written. Check the permissions of the file and its folder, and that the disk is not write-protected.",
        StoreFault.Busy => "another program holds the file. Close it and try again.",
        StoreFault.DiskFailure =>
            $"the disk failed ({exception.SqliteExtendedErrorCode}). Check the disk and its cable, then verify the file.",
        StoreFault.Damaged => "the file is damaged. Restore a backup; keep the damaged file until its readings are safe.",
        StoreFault.DiskFull => "the disk is full. Make room and try again; nothing that was confirmed is lost.",
        StoreFault.CannotOpen => "the file cannot be opened. Check that the folder is there and that you may write in it.",
        StoreFault.NotADatabase => "this is no database. Move the file away or choose another data folder.",
        StoreFault.Refused => $"the entry breaks a rule of the database ({exception.Message}).",
        _ => exception.Message,
    };
}
