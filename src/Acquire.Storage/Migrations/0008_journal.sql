-- The journal of a session as it was received and decided, and what a session needs beside it to be rebuilt and finished.

CREATE TABLE profile_text (
    hash  TEXT NOT NULL PRIMARY KEY CHECK (length(hash) = 64 AND hash = lower(hash)),
    name  TEXT NOT NULL,
    text  TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE session_plan (
    session_id           TEXT    NOT NULL PRIMARY KEY REFERENCES bench_session (id),
    purpose              TEXT    NOT NULL CHECK (purpose IN ('strip', 'reference', 'recheck', 'check', 'repeatability')),
    layout_name          TEXT    NOT NULL,
    reads_per_placement  INTEGER NOT NULL CHECK (reads_per_placement >= 1),
    channels             TEXT    NOT NULL,
    profile_hash         TEXT    NOT NULL REFERENCES profile_text (hash),
    baud                 INTEGER NOT NULL CHECK (baud >= 1),
    process_hash         TEXT    REFERENCES process_snapshot (hash),
    reference_id         TEXT    REFERENCES lot_reference (id),
    reference_revision   INTEGER CHECK (reference_revision >= 1),
    repeatability_id     TEXT    REFERENCES repeatability_test (id),
    check_id             TEXT    REFERENCES calibration_check (id),
    check_lacking        TEXT,
    line                 TEXT,
    bottle               TEXT,
    note                 TEXT,
    handling             TEXT,
    confirms             TEXT    REFERENCES strip (id),
    reread_of            TEXT    REFERENCES strip (id),
    treatment            TEXT,
    paired_with          TEXT    REFERENCES strip (id),
    ran_at               TEXT    CHECK (ran_at LIKE '____-__-__T__:__:__._______+00:00'),
    reason               TEXT,
    specification        REAL    CHECK (specification > 0),
    CHECK ((reread_of IS NULL) = (treatment IS NULL)),
    CHECK ((reference_id IS NULL) = (reference_revision IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE session_plan_patch (
    session_id  TEXT    NOT NULL REFERENCES session_plan (session_id),
    position    INTEGER NOT NULL CHECK (position >= 1),
    key         TEXT    NOT NULL COLLATE NOCASE,
    name        TEXT    NOT NULL,
    PRIMARY KEY (session_id, position),
    UNIQUE (session_id, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE session_entry (
    session_id  TEXT    NOT NULL REFERENCES bench_session (id),
    sequence    INTEGER NOT NULL CHECK (sequence >= 1),
    at          TEXT    NOT NULL CHECK (at LIKE '____-__-__T__:__:__._______+00:00'),
    event       TEXT    NOT NULL CHECK (event IN ('opened', 'received', 'paused', 'broke', 'decided')),
    bytes       BLOB,
    decision    TEXT    CHECK (decision IS NULL OR json_valid(decision)),
    PRIMARY KEY (session_id, sequence),
    CHECK ((event = 'received') = (bytes IS NOT NULL)),
    CHECK ((event = 'decided') = (decision IS NOT NULL))
) STRICT, WITHOUT ROWID;

CREATE TRIGGER profile_text_keeps       BEFORE UPDATE ON profile_text       BEGIN SELECT RAISE(ABORT, 'profile_text is append-only'); END;
CREATE TRIGGER profile_text_stays       BEFORE DELETE ON profile_text       BEGIN SELECT RAISE(ABORT, 'profile_text is append-only'); END;
CREATE TRIGGER session_plan_keeps       BEFORE UPDATE ON session_plan       BEGIN SELECT RAISE(ABORT, 'session_plan is append-only'); END;
CREATE TRIGGER session_plan_stays       BEFORE DELETE ON session_plan       BEGIN SELECT RAISE(ABORT, 'session_plan is append-only'); END;
CREATE TRIGGER session_plan_patch_keeps BEFORE UPDATE ON session_plan_patch BEGIN SELECT RAISE(ABORT, 'session_plan_patch is append-only'); END;
CREATE TRIGGER session_plan_patch_stays BEFORE DELETE ON session_plan_patch BEGIN SELECT RAISE(ABORT, 'session_plan_patch is append-only'); END;
CREATE TRIGGER session_entry_keeps      BEFORE UPDATE ON session_entry      BEGIN SELECT RAISE(ABORT, 'session_entry is append-only'); END;
CREATE TRIGGER session_entry_stays      BEFORE DELETE ON session_entry      BEGIN SELECT RAISE(ABORT, 'session_entry is append-only'); END;

-- A session makes one record: a session that is finished a second time must not give the strip twice. Triggers and no unique indexes,
-- so that a file from before opens whatever is in it.
CREATE INDEX strip_revision_session ON strip_revision (session_id) WHERE session_id IS NOT NULL;
CREATE INDEX lot_reference_revision_session ON lot_reference_revision (session_id) WHERE session_id IS NOT NULL;
CREATE INDEX calibration_check_session ON calibration_check (session_id) WHERE session_id IS NOT NULL;
CREATE INDEX repeatability_test_session ON repeatability_test (session_id) WHERE session_id IS NOT NULL;
CREATE INDEX reference_recheck_session ON reference_recheck (session_id) WHERE session_id IS NOT NULL;

CREATE TRIGGER strip_once_per_session BEFORE INSERT ON strip_revision
WHEN NEW.revision = 1 AND EXISTS (SELECT 1 FROM strip_revision WHERE session_id = NEW.session_id AND revision = 1 AND strip_id <> NEW.strip_id)
BEGIN SELECT RAISE(ABORT, 'the session has given a strip already'); END;

CREATE TRIGGER lot_reference_once_per_session BEFORE INSERT ON lot_reference_revision
WHEN NEW.revision = 1
    AND EXISTS (SELECT 1 FROM lot_reference_revision WHERE session_id = NEW.session_id AND revision = 1 AND reference_id <> NEW.reference_id)
BEGIN SELECT RAISE(ABORT, 'the session has given a reference already'); END;

CREATE TRIGGER calibration_check_once_per_session BEFORE INSERT ON calibration_check
WHEN EXISTS (SELECT 1 FROM calibration_check WHERE session_id = NEW.session_id AND id <> NEW.id)
BEGIN SELECT RAISE(ABORT, 'the session has given a calibration check already'); END;

CREATE TRIGGER repeatability_test_once_per_session BEFORE INSERT ON repeatability_test
WHEN EXISTS (SELECT 1 FROM repeatability_test WHERE session_id = NEW.session_id AND id <> NEW.id)
BEGIN SELECT RAISE(ABORT, 'the session has given a repeatability test already'); END;

CREATE TRIGGER reference_recheck_once_per_session BEFORE INSERT ON reference_recheck
WHEN EXISTS (SELECT 1 FROM reference_recheck WHERE session_id = NEW.session_id AND id <> NEW.id)
BEGIN SELECT RAISE(ABORT, 'the session has given a reference strip already'); END;
