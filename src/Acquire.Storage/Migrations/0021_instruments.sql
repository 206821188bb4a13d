-- Instruments are things of their own: what was read belongs to an instrument's name, no longer to that of its profile. Rows of before
-- stay as they are, for they are sealed: without a name the instrument goes by that of its profile.

CREATE TABLE instrument_revision (
    name             TEXT    NOT NULL COLLATE NOCASE,
    revision         INTEGER NOT NULL CHECK (revision >= 1),
    revised_by       TEXT    NOT NULL,
    revised_at       TEXT    NOT NULL CHECK (revised_at LIKE '____-__-__T__:__:__._______+00:00'),
    revision_reason  TEXT    NOT NULL,
    profile          TEXT    NOT NULL,
    port             TEXT,
    baud             INTEGER CHECK (baud >= 1),
    display_step     REAL    CHECK (display_step > 0 AND display_step <= 0.1),
    filters          TEXT,
    serial_number    TEXT,
    notes            TEXT,
    retired_at       TEXT    CHECK (retired_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (name, revision)
) STRICT, WITHOUT ROWID;

ALTER TABLE bench_session          ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE lot_reference_revision ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE lot_reference_origin   ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE strip_revision         ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE calibration_check      ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE repeatability_test     ADD COLUMN instrument_name TEXT COLLATE NOCASE;
ALTER TABLE reference_recheck      ADD COLUMN instrument_name TEXT COLLATE NOCASE;

-- One instrument for each profile that something was read with, on the port where a session saw it last.
INSERT INTO instrument_revision (name, revision, revised_by, revised_at, revision_reason, profile, port)
WITH used AS (
    SELECT profile, port, read_at, 0 AS from_record FROM bench_session
    UNION ALL SELECT profile, port, read_at, 1 FROM lot_reference_revision
    UNION ALL SELECT profile, port, read_at, 1 FROM strip_revision
    UNION ALL SELECT profile, port, read_at, 1 FROM calibration_check
    UNION ALL SELECT profile, port, read_at, 1 FROM repeatability_test
    UNION ALL SELECT profile, port, read_at, 1 FROM reference_recheck
    UNION ALL SELECT o.profile, NULL, r.read_at, 1 FROM lot_reference_origin AS o JOIN lot_reference_revision AS r USING (revision_id)),
seen AS (
    SELECT profile, port,
        row_number() OVER (PARTITION BY upper(profile) ORDER BY from_record, read_at DESC, port) AS place
    FROM used WHERE port NOT LIKE 'file:%')
SELECT u.profile, 1, 'acquire', min(u.read_at), 'read with this profile before instruments had names', u.profile,
    (SELECT s.port FROM seen AS s WHERE upper(s.profile) = upper(u.profile) AND s.place = 1)
FROM used AS u WHERE trim(u.profile) <> '' GROUP BY upper(u.profile);

CREATE VIEW current_instrument AS
SELECT * FROM instrument_revision AS r
WHERE r.revision = (SELECT max(n.revision) FROM instrument_revision AS n WHERE n.name = r.name);

CREATE TRIGGER instrument_revision_keeps BEFORE UPDATE ON instrument_revision
BEGIN SELECT RAISE(ABORT, 'instrument_revision is append-only'); END;
CREATE TRIGGER instrument_revision_stays BEFORE DELETE ON instrument_revision
BEGIN SELECT RAISE(ABORT, 'instrument_revision is append-only'); END;
