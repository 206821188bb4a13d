-- Plaques, and sessions that read something else than a strip of a lot.

CREATE TABLE plaque (
    name       TEXT    NOT NULL PRIMARY KEY COLLATE NOCASE CHECK (name <> ''),
    tolerance  REAL    NOT NULL CHECK (tolerance > 0 AND tolerance <= 0.5),
    due_days   INTEGER NOT NULL CHECK (due_days BETWEEN 1 AND 3660),
    expires    TEXT    CHECK (expires IS NULL OR expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    note       TEXT,
    added_at   TEXT    NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00')
) STRICT;

CREATE TABLE plaque_patch (
    plaque_name  TEXT    NOT NULL COLLATE NOCASE REFERENCES plaque (name),
    position     INTEGER NOT NULL CHECK (position >= 1),
    key          TEXT    NOT NULL COLLATE NOCASE,
    name         TEXT    NOT NULL,
    red    TEXT CHECK (red IS NULL OR (red NOT GLOB '*[^-0-9.]*' AND CAST(red AS REAL) BETWEEN -2 AND 10)),
    green  TEXT CHECK (green IS NULL OR (green NOT GLOB '*[^-0-9.]*' AND CAST(green AS REAL) BETWEEN -2 AND 10)),
    blue   TEXT CHECK (blue IS NULL OR (blue NOT GLOB '*[^-0-9.]*' AND CAST(blue AS REAL) BETWEEN -2 AND 10)),
    visual TEXT CHECK (visual IS NULL OR (visual NOT GLOB '*[^-0-9.]*' AND CAST(visual AS REAL) BETWEEN -2 AND 10)),
    uncertainty  REAL    NOT NULL CHECK (uncertainty >= 0 AND uncertainty < 1),
    PRIMARY KEY (plaque_name, position),
    UNIQUE (plaque_name, key),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL)
) STRICT, WITHOUT ROWID;

-- SQLite cannot change a CHECK, so the table is made anew. Its own name is dropped and made again, and never renamed: then the foreign
-- keys of other tables, deferred meanwhile, hold again once the rows are back.
PRAGMA defer_foreign_keys = ON;

CREATE TEMP TABLE bench_session_before AS SELECT * FROM bench_session;

DROP TABLE bench_session;

CREATE TABLE bench_session (
    id               TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36 AND id = lower(id)),
    kind             TEXT    NOT NULL CHECK (kind IN ('strip', 'lot_reference', 'calibration_check', 'repeatability')),
    lot_code         TEXT    COLLATE NOCASE REFERENCES lot (code),
    plaque_name      TEXT    COLLATE NOCASE REFERENCES plaque (name),
    reads_per_patch  INTEGER NOT NULL CHECK (reads_per_patch >= 1),
    read_at          TEXT    NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    read_by          TEXT    NOT NULL,
    profile          TEXT,
    profile_hash     TEXT,
    port             TEXT,
    CHECK (kind NOT IN ('strip', 'lot_reference') OR lot_code IS NOT NULL),
    CHECK ((kind = 'calibration_check') = (plaque_name IS NOT NULL)),
    CHECK ((profile IS NULL) = (profile_hash IS NULL) AND (profile IS NULL) = (port IS NULL))
) STRICT;

INSERT INTO bench_session (id, kind, lot_code, reads_per_patch, read_at, read_by, profile, profile_hash, port)
SELECT id, kind, lot_code, reads_per_patch, read_at, read_by, profile, profile_hash, port FROM bench_session_before;

DROP TABLE bench_session_before;

CREATE TRIGGER plaque_keeps        BEFORE UPDATE ON plaque        BEGIN SELECT RAISE(ABORT, 'plaque is append-only'); END;
CREATE TRIGGER plaque_stays        BEFORE DELETE ON plaque        BEGIN SELECT RAISE(ABORT, 'plaque is append-only'); END;
CREATE TRIGGER plaque_patch_keeps  BEFORE UPDATE ON plaque_patch  BEGIN SELECT RAISE(ABORT, 'plaque_patch is append-only'); END;
CREATE TRIGGER plaque_patch_stays  BEFORE DELETE ON plaque_patch  BEGIN SELECT RAISE(ABORT, 'plaque_patch is append-only'); END;
CREATE TRIGGER bench_session_keeps BEFORE UPDATE ON bench_session BEGIN SELECT RAISE(ABORT, 'bench_session is append-only'); END;
CREATE TRIGGER bench_session_stays BEFORE DELETE ON bench_session BEGIN SELECT RAISE(ABORT, 'bench_session is append-only'); END;
