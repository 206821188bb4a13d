using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Faults;

/// <summary>The store cannot do what it was asked. The message is for the user: which file, what is wrong, what to do.</summary>
public sealed class StoreException(StoreFault fault, string message, Exception? inner = null) : Exception(message, inner)
{
    public StoreFault Fault { get; } = fault;
}

/// <summary>What is wrong, so that a caller can choose what to do without reading the message.</summary>
public enum StoreFault
{
    /// <summary>The data folder cannot be made, entered or written to.</summary>
    FolderNotUsable,

    /// <summary>The file is not an SQLite database.</summary>
    NotADatabase,

    /// <summary>The file is an SQLite database of another program.</summary>
    NotOurs,

    /// <summary>The file was written by a newer version of this program.</summary>
    NewerFile,

    /// <summary>The file could not be brought to this version; the backup made before is unharmed.</summary>
    MigrationFailed,

    /// <summary>The file system cannot hold the journal that makes commits durable; network folders often cannot.</summary>
    NoWriteAheadLog,

    /// <summary>The file cannot be opened, or was moved away.</summary>
    CannotOpen,

    /// <summary>The file was moved, deleted or emptied, though its backups or its write-ahead log are there.</summary>
    Lost,

    /// <summary>The file, or the disk it is on, cannot be written.</summary>
    ReadOnly,

    DiskFull,

    /// <summary>The disk failed to read or write.</summary>
    DiskFailure,

    /// <summary>The content of the file is damaged.</summary>
    Damaged,

    /// <summary>Another program holds the file for writing.</summary>
    Busy,

    /// <summary>There is such an entry already.</summary>
    Duplicate,

    /// <summary>Something that the entry refers to is not there.</summary>
    NotFound,

    /// <summary>A short id fits more than one record.</summary>
    Ambiguous,

    /// <summary>The entry contradicts what is stored: a wrong revision number, other bytes, a second end.</summary>
    Conflict,

    /// <summary>A rule of the database refuses the entry.</summary>
    Refused,

    Closed,

    /// <summary>None of the others.</summary>
    Unexpected,
}

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

    /// <summary>The fault of a primary result code of SQLite. Source: sqlite.org/rescode.html.</summary>
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

    /// <summary>Whether it is the file that cannot be used, whatever was asked of it.</summary>
    public static bool IsOfTheFile(StoreFault fault) => BreaksConnection(fault) || fault is StoreFault.Busy or StoreFault.DiskFull;

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
