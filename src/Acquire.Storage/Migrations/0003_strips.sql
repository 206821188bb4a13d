-- Control strips. Each revision of a strip is whole in itself: reads, means, aims and the process sheet it was judged by.

CREATE TABLE process_snapshot (
    hash    TEXT NOT NULL PRIMARY KEY CHECK (length(hash) = 64),
    key     TEXT NOT NULL,
    name    TEXT NOT NULL,
    status  TEXT NOT NULL CHECK (status IN ('m', 'a', 'visual')),
    sheet   TEXT NOT NULL CHECK (json_valid(sheet))
) STRICT, WITHOUT ROWID;

CREATE TABLE process_limit (
    process_hash    TEXT    NOT NULL REFERENCES process_snapshot (hash),
    position        INTEGER NOT NULL CHECK (position >= 1),
    parameter_key   TEXT    NOT NULL,
    parameter_name  TEXT    NOT NULL,
    kind            TEXT    NOT NULL CHECK (kind IN ('action', 'control')),
    lower           REAL    CHECK (lower IS NULL OR lower <= 0),
    upper           REAL    CHECK (upper IS NULL OR upper >= 0),
    source          TEXT    NOT NULL,
    PRIMARY KEY (process_hash, position, kind),
    CHECK (coalesce(lower, upper) IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE strip (
    id  TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36 AND id = lower(id))
) STRICT, WITHOUT ROWID;

CREATE TABLE strip_revision (
    revision_id      INTEGER NOT NULL PRIMARY KEY,
    strip_id         TEXT    NOT NULL REFERENCES strip (id),
    revision         INTEGER NOT NULL CHECK (revision >= 1),
    revised_by       TEXT    NOT NULL,
    revised_at TEXT NOT NULL CHECK (revised_at LIKE '____-__-__T__:__:__._______+00:00'),
    revision_reason  TEXT    NOT NULL,
    added_at TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    lot_code         TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    layout_name      TEXT    NOT NULL,
    process_hash     TEXT    NOT NULL REFERENCES process_snapshot (hash),
    reference_id     TEXT    REFERENCES lot_reference (id),
    line             TEXT,
    bottle           TEXT,
    note             TEXT,
    session_id       TEXT    REFERENCES bench_session (id),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by          TEXT    NOT NULL,
    profile          TEXT,
    profile_hash     TEXT,
    port             TEXT,
    UNIQUE (strip_id, revision),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE INDEX strip_revision_by_time ON strip_revision (read_at, strip_id);

CREATE TABLE strip_patch (
    revision_id      INTEGER NOT NULL REFERENCES strip_revision (revision_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at TEXT CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    UNIQUE (revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE strip_read (
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
    FOREIGN KEY (revision_id, patch_position) REFERENCES strip_patch (revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE strip_line (
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (revision_id, patch_position, read_number, position),
    FOREIGN KEY (revision_id, patch_position, read_number) REFERENCES strip_read (revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE strip_mean (
    revision_id         INTEGER NOT NULL REFERENCES strip_revision (revision_id),
    position            INTEGER NOT NULL CHECK (position >= 1),
    patch_key           TEXT    NOT NULL COLLATE NOCASE,
    channel             TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    mean                REAL    NOT NULL,
    reads               INTEGER NOT NULL CHECK (reads >= 1),
    standard_deviation  REAL    CHECK (standard_deviation IS NULL OR standard_deviation >= 0),
    resolution          REAL    NOT NULL CHECK (resolution > 0),
    PRIMARY KEY (revision_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE strip_aim (
    revision_id           INTEGER NOT NULL REFERENCES strip_revision (revision_id),
    position              INTEGER NOT NULL CHECK (position >= 1),
    patch_key             TEXT    NOT NULL COLLATE NOCASE,
    channel               TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    reference             REAL    NOT NULL,
    correction            REAL    NOT NULL,
    standard_uncertainty  REAL    NOT NULL CHECK (standard_uncertainty >= 0),
    PRIMARY KEY (revision_id, position)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER process_snapshot_keeps BEFORE UPDATE ON process_snapshot BEGIN SELECT RAISE(ABORT, 'process_snapshot is append-only'); END;
CREATE TRIGGER process_snapshot_stays BEFORE DELETE ON process_snapshot BEGIN SELECT RAISE(ABORT, 'process_snapshot is append-only'); END;
CREATE TRIGGER process_limit_keeps    BEFORE UPDATE ON process_limit    BEGIN SELECT RAISE(ABORT, 'process_limit is append-only'); END;
CREATE TRIGGER process_limit_stays    BEFORE DELETE ON process_limit    BEGIN SELECT RAISE(ABORT, 'process_limit is append-only'); END;
CREATE TRIGGER strip_keeps            BEFORE UPDATE ON strip            BEGIN SELECT RAISE(ABORT, 'strip is append-only'); END;
CREATE TRIGGER strip_stays            BEFORE DELETE ON strip            BEGIN SELECT RAISE(ABORT, 'strip is append-only'); END;
CREATE TRIGGER strip_revision_keeps   BEFORE UPDATE ON strip_revision   BEGIN SELECT RAISE(ABORT, 'strip_revision is append-only'); END;
CREATE TRIGGER strip_revision_stays   BEFORE DELETE ON strip_revision   BEGIN SELECT RAISE(ABORT, 'strip_revision is append-only'); END;
CREATE TRIGGER strip_patch_keeps      BEFORE UPDATE ON strip_patch      BEGIN SELECT RAISE(ABORT, 'strip_patch is append-only'); END;
CREATE TRIGGER strip_patch_stays      BEFORE DELETE ON strip_patch      BEGIN SELECT RAISE(ABORT, 'strip_patch is append-only'); END;
CREATE TRIGGER strip_read_keeps       BEFORE UPDATE ON strip_read       BEGIN SELECT RAISE(ABORT, 'strip_read is append-only'); END;
CREATE TRIGGER strip_read_stays       BEFORE DELETE ON strip_read       BEGIN SELECT RAISE(ABORT, 'strip_read is append-only'); END;
CREATE TRIGGER strip_line_keeps       BEFORE UPDATE ON strip_line       BEGIN SELECT RAISE(ABORT, 'strip_line is append-only'); END;
CREATE TRIGGER strip_line_stays       BEFORE DELETE ON strip_line       BEGIN SELECT RAISE(ABORT, 'strip_line is append-only'); END;
CREATE TRIGGER strip_mean_keeps       BEFORE UPDATE ON strip_mean       BEGIN SELECT RAISE(ABORT, 'strip_mean is append-only'); END;
CREATE TRIGGER strip_mean_stays       BEFORE DELETE ON strip_mean       BEGIN SELECT RAISE(ABORT, 'strip_mean is append-only'); END;
CREATE TRIGGER strip_aim_keeps        BEFORE UPDATE ON strip_aim        BEGIN SELECT RAISE(ABORT, 'strip_aim is append-only'); END;
CREATE TRIGGER strip_aim_stays        BEFORE DELETE ON strip_aim        BEGIN SELECT RAISE(ABORT, 'strip_aim is append-only'); END;
