-- Readings of the reference strip of a lot. Each revision is whole in itself; the one added last is in force.

CREATE TABLE lot_reference (
    id  TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36 AND id = lower(id))
) STRICT, WITHOUT ROWID;

CREATE TABLE lot_reference_revision (
    revision_id      INTEGER NOT NULL PRIMARY KEY,
    reference_id     TEXT    NOT NULL REFERENCES lot_reference (id),
    revision         INTEGER NOT NULL CHECK (revision >= 1),
    revised_by       TEXT    NOT NULL,
    revised_at TEXT NOT NULL CHECK (revised_at LIKE '____-__-__T__:__:__._______+00:00'),
    revision_reason  TEXT    NOT NULL,
    added_at TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    lot_code         TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    session_id       TEXT    REFERENCES bench_session (id),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by          TEXT    NOT NULL,
    profile          TEXT,
    profile_hash     TEXT,
    port             TEXT,
    UNIQUE (reference_id, revision),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE INDEX lot_reference_revision_by_lot ON lot_reference_revision (lot_code, revision_id);

CREATE TABLE lot_reference_patch (
    revision_id      INTEGER NOT NULL REFERENCES lot_reference_revision (revision_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at TEXT CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    UNIQUE (revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE lot_reference_read (
    revision_id     INTEGER NOT NULL,
    patch_position  INTEGER NOT NULL,
    read_number     INTEGER NOT NULL CHECK (read_number >= 1),
    red    TEXT CHECK (red IS NULL OR (red NOT GLOB '*[^-0-9.]*' AND CAST(red AS REAL) BETWEEN -2 AND 10)),
    green  TEXT CHECK (green IS NULL OR (green NOT GLOB '*[^-0-9.]*' AND CAST(green AS REAL) BETWEEN -2 AND 10)),
    blue   TEXT CHECK (blue IS NULL OR (blue NOT GLOB '*[^-0-9.]*' AND CAST(blue AS REAL) BETWEEN -2 AND 10)),
    visual TEXT CHECK (visual IS NULL OR (visual NOT GLOB '*[^-0-9.]*' AND CAST(visual AS REAL) BETWEEN -2 AND 10)),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    excluded_reason TEXT,
    excluded_at TEXT CHECK (excluded_at IS NULL OR excluded_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, patch_position, read_number),
    FOREIGN KEY (revision_id, patch_position) REFERENCES lot_reference_patch (revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE lot_reference_line (
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (revision_id, patch_position, read_number, position),
    FOREIGN KEY (revision_id, patch_position, read_number) REFERENCES lot_reference_read (revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TRIGGER lot_reference_keeps          BEFORE UPDATE ON lot_reference          BEGIN SELECT RAISE(ABORT, 'lot_reference is append-only'); END;
CREATE TRIGGER lot_reference_stays          BEFORE DELETE ON lot_reference          BEGIN SELECT RAISE(ABORT, 'lot_reference is append-only'); END;
CREATE TRIGGER lot_reference_revision_keeps BEFORE UPDATE ON lot_reference_revision BEGIN SELECT RAISE(ABORT, 'lot_reference_revision is append-only'); END;
CREATE TRIGGER lot_reference_revision_stays BEFORE DELETE ON lot_reference_revision BEGIN SELECT RAISE(ABORT, 'lot_reference_revision is append-only'); END;
CREATE TRIGGER lot_reference_patch_keeps    BEFORE UPDATE ON lot_reference_patch    BEGIN SELECT RAISE(ABORT, 'lot_reference_patch is append-only'); END;
CREATE TRIGGER lot_reference_patch_stays    BEFORE DELETE ON lot_reference_patch    BEGIN SELECT RAISE(ABORT, 'lot_reference_patch is append-only'); END;
CREATE TRIGGER lot_reference_read_keeps     BEFORE UPDATE ON lot_reference_read     BEGIN SELECT RAISE(ABORT, 'lot_reference_read is append-only'); END;
CREATE TRIGGER lot_reference_read_stays     BEFORE DELETE ON lot_reference_read     BEGIN SELECT RAISE(ABORT, 'lot_reference_read is append-only'); END;
CREATE TRIGGER lot_reference_line_keeps     BEFORE UPDATE ON lot_reference_line     BEGIN SELECT RAISE(ABORT, 'lot_reference_line is append-only'); END;
CREATE TRIGGER lot_reference_line_stays     BEFORE DELETE ON lot_reference_line     BEGIN SELECT RAISE(ABORT, 'lot_reference_line is append-only'); END;
