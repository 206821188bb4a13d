-- Lots of control strips and the journal of bench sessions. Every column is explained in SCHEMA.md.
-- Times are always 33 characters: 2026-01-31T18:05:09.1234567+00:00. Ids are UUID v7 in lower case.

PRAGMA application_id = 1094930773; -- 0x41435155

CREATE TABLE lot (
    code          TEXT NOT NULL PRIMARY KEY COLLATE NOCASE CHECK (code <> ''),
    process_key   TEXT NOT NULL,
    layout_name   TEXT NOT NULL,
    expires       TEXT CHECK (expires IS NULL OR expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    storage_rule  TEXT,
    note          TEXT,
    added_at      TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00')
) STRICT;

CREATE TABLE lot_patch (
    lot_code  TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    position  INTEGER NOT NULL CHECK (position >= 1),
    key       TEXT    NOT NULL COLLATE NOCASE,
    name      TEXT    NOT NULL,
    PRIMARY KEY (lot_code, position),
    UNIQUE (lot_code, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE lot_correction (
    lot_code   TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    position   INTEGER NOT NULL CHECK (position >= 1),
    patch_key  TEXT    NOT NULL COLLATE NOCASE,
    channel    TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    value      REAL    NOT NULL CHECK (value BETWEEN -0.5 AND 0.5),
    PRIMARY KEY (lot_code, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE bench_session (
    id               TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36 AND id = lower(id)),
    kind             TEXT    NOT NULL CHECK (kind IN ('strip', 'lot_reference')),
    lot_code         TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    reads_per_patch  INTEGER NOT NULL CHECK (reads_per_patch >= 1),
    read_at          TEXT    NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by          TEXT    NOT NULL,
    profile          TEXT,
    profile_hash     TEXT,
    port             TEXT,
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE TABLE session_line (
    session_id   TEXT    NOT NULL REFERENCES bench_session (id),
    sequence     INTEGER NOT NULL CHECK (sequence >= 1),
    received_at  TEXT    NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes        BLOB    NOT NULL,
    meaning      TEXT    NOT NULL CHECK (meaning IN
        ('reading', 'partial', 'over_range', 'error', 'calibration', 'ignored', 'unmatched')),
    PRIMARY KEY (session_id, sequence)
) STRICT, WITHOUT ROWID;

-- A table of its own, so that the session row itself never changes and a session ends once at most.
CREATE TABLE session_end (
    session_id  TEXT NOT NULL PRIMARY KEY REFERENCES bench_session (id),
    outcome     TEXT NOT NULL CHECK (outcome IN ('completed', 'cancelled', 'failed')),
    ended_at    TEXT NOT NULL CHECK (ended_at LIKE '____-__-__T__:__:__._______+00:00'),
    reason      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER lot_keeps            BEFORE UPDATE ON lot            BEGIN SELECT RAISE(ABORT, 'lot is append-only'); END;
CREATE TRIGGER lot_stays            BEFORE DELETE ON lot            BEGIN SELECT RAISE(ABORT, 'lot is append-only'); END;
CREATE TRIGGER lot_patch_keeps      BEFORE UPDATE ON lot_patch      BEGIN SELECT RAISE(ABORT, 'lot_patch is append-only'); END;
CREATE TRIGGER lot_patch_stays      BEFORE DELETE ON lot_patch      BEGIN SELECT RAISE(ABORT, 'lot_patch is append-only'); END;
CREATE TRIGGER lot_correction_keeps BEFORE UPDATE ON lot_correction BEGIN SELECT RAISE(ABORT, 'lot_correction is append-only'); END;
CREATE TRIGGER lot_correction_stays BEFORE DELETE ON lot_correction BEGIN SELECT RAISE(ABORT, 'lot_correction is append-only'); END;
CREATE TRIGGER bench_session_keeps  BEFORE UPDATE ON bench_session  BEGIN SELECT RAISE(ABORT, 'bench_session is append-only'); END;
CREATE TRIGGER bench_session_stays  BEFORE DELETE ON bench_session  BEGIN SELECT RAISE(ABORT, 'bench_session is append-only'); END;
CREATE TRIGGER session_line_keeps   BEFORE UPDATE ON session_line   BEGIN SELECT RAISE(ABORT, 'session_line is append-only'); END;
CREATE TRIGGER session_line_stays   BEFORE DELETE ON session_line   BEGIN SELECT RAISE(ABORT, 'session_line is append-only'); END;
CREATE TRIGGER session_end_keeps    BEFORE UPDATE ON session_end    BEGIN SELECT RAISE(ABORT, 'session_end is append-only'); END;
CREATE TRIGGER session_end_stays    BEFORE DELETE ON session_end    BEGIN SELECT RAISE(ABORT, 'session_end is append-only'); END;
