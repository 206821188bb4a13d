namespace Acquire.Storage;

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

    /// <summary>The disk is full.</summary>
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

    /// <summary>The store is closed.</summary>
    Closed,

    /// <summary>None of the others.</summary>
    Unexpected,
}
