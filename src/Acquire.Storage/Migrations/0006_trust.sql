-- How far the instrument can be trusted: calibration checks, repeatability tests, reference strips read again, and the check a strip was read under.

CREATE TABLE calibration_check (
    revision_id  INTEGER NOT NULL PRIMARY KEY,
    id           TEXT    NOT NULL UNIQUE CHECK (length(id) = 36 AND id = lower(id)),
    plaque_name  TEXT    NOT NULL COLLATE NOCASE REFERENCES plaque (name),
    passed       INTEGER NOT NULL CHECK (passed IN (0, 1)),
    due_at TEXT NOT NULL CHECK (due_at LIKE '____-__-__T__:__:__._______+00:00'),
    session_id   TEXT    REFERENCES bench_session (id),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by      TEXT    NOT NULL,
    profile      TEXT,
    profile_hash TEXT,
    port         TEXT,
    added_at TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE INDEX calibration_check_by_time ON calibration_check (read_at, id);

CREATE TABLE calibration_check_patch (
    revision_id      INTEGER NOT NULL REFERENCES calibration_check (revision_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at TEXT CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    UNIQUE (revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE calibration_check_read (
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
    FOREIGN KEY (revision_id, patch_position) REFERENCES calibration_check_patch (revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE calibration_check_line (
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (revision_id, patch_position, read_number, position),
    FOREIGN KEY (revision_id, patch_position, read_number) REFERENCES calibration_check_read (revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE repeatability_test (
    revision_id          INTEGER NOT NULL PRIMARY KEY,
    id                   TEXT    NOT NULL UNIQUE CHECK (length(id) = 36 AND id = lower(id)),
    reads_per_placement  INTEGER NOT NULL CHECK (reads_per_placement >= 1),
    specification        REAL    NOT NULL CHECK (specification > 0 AND specification < 1),
    passed               INTEGER NOT NULL CHECK (passed IN (0, 1)),
    session_id   TEXT    REFERENCES bench_session (id),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by      TEXT    NOT NULL,
    profile      TEXT,
    profile_hash TEXT,
    port         TEXT,
    added_at TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE INDEX repeatability_test_by_time ON repeatability_test (read_at, id);

CREATE TABLE repeatability_test_patch (
    revision_id      INTEGER NOT NULL REFERENCES repeatability_test (revision_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at TEXT CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    UNIQUE (revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE repeatability_test_read (
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
    FOREIGN KEY (revision_id, patch_position) REFERENCES repeatability_test_patch (revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE repeatability_test_line (
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (revision_id, patch_position, read_number, position),
    FOREIGN KEY (revision_id, patch_position, read_number) REFERENCES repeatability_test_read (revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE reference_recheck (
    revision_id  INTEGER NOT NULL PRIMARY KEY,
    id           TEXT    NOT NULL UNIQUE CHECK (length(id) = 36 AND id = lower(id)),
    lot_code     TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    session_id   TEXT    REFERENCES bench_session (id),
    read_at TEXT NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by      TEXT    NOT NULL,
    profile      TEXT,
    profile_hash TEXT,
    port         TEXT,
    added_at TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

CREATE INDEX reference_recheck_by_lot ON reference_recheck (lot_code, read_at, id);

CREATE TABLE reference_recheck_patch (
    revision_id      INTEGER NOT NULL REFERENCES reference_recheck (revision_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at TEXT CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    UNIQUE (revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE reference_recheck_read (
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
    FOREIGN KEY (revision_id, patch_position) REFERENCES reference_recheck_patch (revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE reference_recheck_line (
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at TEXT NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (revision_id, patch_position, read_number, position),
    FOREIGN KEY (revision_id, patch_position, read_number) REFERENCES reference_recheck_read (revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

ALTER TABLE strip_revision ADD COLUMN check_id TEXT REFERENCES calibration_check (id);

ALTER TABLE strip_revision ADD COLUMN check_lacking TEXT CHECK (check_lacking IS NULL OR check_id IS NULL);

CREATE TRIGGER calibration_check_keeps        BEFORE UPDATE ON calibration_check        BEGIN SELECT RAISE(ABORT, 'calibration_check is append-only'); END;
CREATE TRIGGER calibration_check_stays        BEFORE DELETE ON calibration_check        BEGIN SELECT RAISE(ABORT, 'calibration_check is append-only'); END;
CREATE TRIGGER calibration_check_patch_keeps  BEFORE UPDATE ON calibration_check_patch  BEGIN SELECT RAISE(ABORT, 'calibration_check_patch is append-only'); END;
CREATE TRIGGER calibration_check_patch_stays  BEFORE DELETE ON calibration_check_patch  BEGIN SELECT RAISE(ABORT, 'calibration_check_patch is append-only'); END;
CREATE TRIGGER calibration_check_read_keeps   BEFORE UPDATE ON calibration_check_read   BEGIN SELECT RAISE(ABORT, 'calibration_check_read is append-only'); END;
CREATE TRIGGER calibration_check_read_stays   BEFORE DELETE ON calibration_check_read   BEGIN SELECT RAISE(ABORT, 'calibration_check_read is append-only'); END;
CREATE TRIGGER calibration_check_line_keeps   BEFORE UPDATE ON calibration_check_line   BEGIN SELECT RAISE(ABORT, 'calibration_check_line is append-only'); END;
CREATE TRIGGER calibration_check_line_stays   BEFORE DELETE ON calibration_check_line   BEGIN SELECT RAISE(ABORT, 'calibration_check_line is append-only'); END;
CREATE TRIGGER repeatability_test_keeps       BEFORE UPDATE ON repeatability_test       BEGIN SELECT RAISE(ABORT, 'repeatability_test is append-only'); END;
CREATE TRIGGER repeatability_test_stays       BEFORE DELETE ON repeatability_test       BEGIN SELECT RAISE(ABORT, 'repeatability_test is append-only'); END;
CREATE TRIGGER repeatability_test_patch_keeps BEFORE UPDATE ON repeatability_test_patch BEGIN SELECT RAISE(ABORT, 'repeatability_test_patch is append-only'); END;
CREATE TRIGGER repeatability_test_patch_stays BEFORE DELETE ON repeatability_test_patch BEGIN SELECT RAISE(ABORT, 'repeatability_test_patch is append-only'); END;
CREATE TRIGGER repeatability_test_read_keeps  BEFORE UPDATE ON repeatability_test_read  BEGIN SELECT RAISE(ABORT, 'repeatability_test_read is append-only'); END;
CREATE TRIGGER repeatability_test_read_stays  BEFORE DELETE ON repeatability_test_read  BEGIN SELECT RAISE(ABORT, 'repeatability_test_read is append-only'); END;
CREATE TRIGGER repeatability_test_line_keeps  BEFORE UPDATE ON repeatability_test_line  BEGIN SELECT RAISE(ABORT, 'repeatability_test_line is append-only'); END;
CREATE TRIGGER repeatability_test_line_stays  BEFORE DELETE ON repeatability_test_line  BEGIN SELECT RAISE(ABORT, 'repeatability_test_line is append-only'); END;
CREATE TRIGGER reference_recheck_keeps        BEFORE UPDATE ON reference_recheck        BEGIN SELECT RAISE(ABORT, 'reference_recheck is append-only'); END;
CREATE TRIGGER reference_recheck_stays        BEFORE DELETE ON reference_recheck        BEGIN SELECT RAISE(ABORT, 'reference_recheck is append-only'); END;
CREATE TRIGGER reference_recheck_patch_keeps  BEFORE UPDATE ON reference_recheck_patch  BEGIN SELECT RAISE(ABORT, 'reference_recheck_patch is append-only'); END;
CREATE TRIGGER reference_recheck_patch_stays  BEFORE DELETE ON reference_recheck_patch  BEGIN SELECT RAISE(ABORT, 'reference_recheck_patch is append-only'); END;
CREATE TRIGGER reference_recheck_read_keeps   BEFORE UPDATE ON reference_recheck_read   BEGIN SELECT RAISE(ABORT, 'reference_recheck_read is append-only'); END;
CREATE TRIGGER reference_recheck_read_stays   BEFORE DELETE ON reference_recheck_read   BEGIN SELECT RAISE(ABORT, 'reference_recheck_read is append-only'); END;
CREATE TRIGGER reference_recheck_line_keeps   BEFORE UPDATE ON reference_recheck_line   BEGIN SELECT RAISE(ABORT, 'reference_recheck_line is append-only'); END;
CREATE TRIGGER reference_recheck_line_stays   BEFORE DELETE ON reference_recheck_line   BEGIN SELECT RAISE(ABORT, 'reference_recheck_line is append-only'); END;
