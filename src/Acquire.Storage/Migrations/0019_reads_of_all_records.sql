-- The reads of every kind of record in one family of tables: until now each of five kinds had three of its own.
--
-- Rows move and their seals stay. The seal of a row here names what the row was called before, the word in `record` and the ending of the table, and
-- holds the same columns; so a row that was sealed as strip_read [2,1,1] is proved by that same seal afterwards, one that did not fit its seal does not
-- fit it now, and nothing is sealed anew.

CREATE TABLE record_patch (
    record           TEXT    NOT NULL CHECK (record IN ('strip', 'lot_reference', 'calibration_check', 'repeatability_test', 'reference_recheck')),
    revision_id      INTEGER NOT NULL,
    position         INTEGER NOT NULL CHECK (position >= 1),
    key              TEXT    NOT NULL COLLATE NOCASE,
    name             TEXT    NOT NULL,
    left_out_reason  TEXT,
    left_out_at      TEXT    CHECK (left_out_at IS NULL OR left_out_at LIKE '____-__-__T__:__:__._______+00:00'),
    of_strip              INTEGER AS (iif(record = 'strip', revision_id, NULL)) REFERENCES strip_revision (revision_id),
    of_lot_reference      INTEGER AS (iif(record = 'lot_reference', revision_id, NULL)) REFERENCES lot_reference_revision (revision_id),
    of_calibration_check  INTEGER AS (iif(record = 'calibration_check', revision_id, NULL)) REFERENCES calibration_check (revision_id),
    of_repeatability_test INTEGER AS (iif(record = 'repeatability_test', revision_id, NULL)) REFERENCES repeatability_test (revision_id),
    of_reference_recheck  INTEGER AS (iif(record = 'reference_recheck', revision_id, NULL)) REFERENCES reference_recheck (revision_id),
    PRIMARY KEY (record, revision_id, position),
    UNIQUE (record, revision_id, key),
    CHECK ((left_out_reason IS NULL) = (left_out_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE record_read (
    record           TEXT    NOT NULL,
    revision_id      INTEGER NOT NULL,
    patch_position   INTEGER NOT NULL,
    read_number      INTEGER NOT NULL CHECK (read_number >= 1),
    red              TEXT    CHECK (red IS NULL OR (red NOT GLOB '*[^-0-9.]*' AND CAST(red AS REAL) BETWEEN -2 AND 10)),
    green            TEXT    CHECK (green IS NULL OR (green NOT GLOB '*[^-0-9.]*' AND CAST(green AS REAL) BETWEEN -2 AND 10)),
    blue             TEXT    CHECK (blue IS NULL OR (blue NOT GLOB '*[^-0-9.]*' AND CAST(blue AS REAL) BETWEEN -2 AND 10)),
    visual           TEXT    CHECK (visual IS NULL OR (visual NOT GLOB '*[^-0-9.]*' AND CAST(visual AS REAL) BETWEEN -2 AND 10)),
    read_at          TEXT    NOT NULL CHECK (read_at LIKE '____-__-__T__:__:__._______+00:00'),
    excluded_reason  TEXT,
    excluded_at      TEXT    CHECK (excluded_at IS NULL OR excluded_at LIKE '____-__-__T__:__:__._______+00:00'),
    note             TEXT,
    PRIMARY KEY (record, revision_id, patch_position, read_number),
    FOREIGN KEY (record, revision_id, patch_position) REFERENCES record_patch (record, revision_id, position),
    CHECK (coalesce(red, green, blue, visual) IS NOT NULL),
    CHECK ((excluded_reason IS NULL) = (excluded_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE record_line (
    record            TEXT    NOT NULL,
    revision_id       INTEGER NOT NULL,
    patch_position    INTEGER NOT NULL,
    read_number       INTEGER NOT NULL,
    position          INTEGER NOT NULL CHECK (position >= 1),
    received_at       TEXT    NOT NULL CHECK (received_at LIKE '____-__-__T__:__:__._______+00:00'),
    bytes             BLOB    NOT NULL,
    session_id        TEXT,
    session_sequence  INTEGER,
    PRIMARY KEY (record, revision_id, patch_position, read_number, position),
    FOREIGN KEY (record, revision_id, patch_position, read_number)
        REFERENCES record_read (record, revision_id, patch_position, read_number),
    FOREIGN KEY (session_id, session_sequence) REFERENCES session_line (session_id, sequence),
    CHECK ((session_id IS NULL) = (session_sequence IS NULL))
) STRICT, WITHOUT ROWID;

INSERT INTO record_patch (record, revision_id, position, key, name, left_out_reason, left_out_at)
SELECT 'strip', revision_id, position, key, name, left_out_reason, left_out_at FROM strip_patch
UNION ALL
SELECT 'lot_reference', revision_id, position, key, name, left_out_reason, left_out_at FROM lot_reference_patch
UNION ALL
SELECT 'calibration_check', revision_id, position, key, name, left_out_reason, left_out_at FROM calibration_check_patch
UNION ALL
SELECT 'repeatability_test', revision_id, position, key, name, left_out_reason, left_out_at FROM repeatability_test_patch
UNION ALL
SELECT 'reference_recheck', revision_id, position, key, name, left_out_reason, left_out_at FROM reference_recheck_patch;

INSERT INTO record_read (record, revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note)
SELECT 'strip', revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note FROM strip_read
UNION ALL
SELECT 'lot_reference', revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note FROM lot_reference_read
UNION ALL
SELECT 'calibration_check', revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note FROM calibration_check_read
UNION ALL
SELECT 'repeatability_test', revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note FROM repeatability_test_read
UNION ALL
SELECT 'reference_recheck', revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note FROM reference_recheck_read;

INSERT INTO record_line (record, revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence)
SELECT 'strip', revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence FROM strip_line
UNION ALL
SELECT 'lot_reference', revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence FROM lot_reference_line
UNION ALL
SELECT 'calibration_check', revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence FROM calibration_check_line
UNION ALL
SELECT 'repeatability_test', revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence FROM repeatability_test_line
UNION ALL
SELECT 'reference_recheck', revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence FROM reference_recheck_line;

DROP VIEW strip_density;
DROP VIEW lot_reference_density;
DROP TABLE strip_line; DROP TABLE strip_read; DROP TABLE strip_patch;
DROP TABLE lot_reference_line; DROP TABLE lot_reference_read; DROP TABLE lot_reference_patch;
DROP TABLE calibration_check_line; DROP TABLE calibration_check_read; DROP TABLE calibration_check_patch;
DROP TABLE repeatability_test_line; DROP TABLE repeatability_test_read; DROP TABLE repeatability_test_patch;
DROP TABLE reference_recheck_line; DROP TABLE reference_recheck_read; DROP TABLE reference_recheck_patch;

CREATE TRIGGER record_patch_keeps BEFORE UPDATE ON record_patch BEGIN SELECT RAISE(ABORT, 'record_patch is append-only'); END;
CREATE TRIGGER record_patch_stays BEFORE DELETE ON record_patch BEGIN SELECT RAISE(ABORT, 'record_patch is append-only'); END;
CREATE TRIGGER record_read_keeps BEFORE UPDATE ON record_read BEGIN SELECT RAISE(ABORT, 'record_read is append-only'); END;
CREATE TRIGGER record_read_stays BEFORE DELETE ON record_read BEGIN SELECT RAISE(ABORT, 'record_read is append-only'); END;
CREATE TRIGGER record_line_keeps BEFORE UPDATE ON record_line BEGIN SELECT RAISE(ABORT, 'record_line is append-only'); END;
CREATE TRIGGER record_line_stays BEFORE DELETE ON record_line BEGIN SELECT RAISE(ABORT, 'record_line is append-only'); END;

-- Every read of every record with its densities as numbers; the views that were there before are parts of it.
CREATE VIEW record_density AS
SELECT r.record, r.revision_id, p.key AS patch_key, p.position AS patch_position, r.read_number, r.channel, r.shown, CAST(r.shown AS REAL) AS density,
       r.read_at, p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM (SELECT t.*, c.channel, CASE c.channel WHEN 'red' THEN t.red WHEN 'green' THEN t.green WHEN 'blue' THEN t.blue ELSE t.visual END AS shown
      FROM record_read AS t
      JOIN (SELECT 'red' AS channel UNION ALL SELECT 'green' UNION ALL SELECT 'blue' UNION ALL SELECT 'visual') AS c) AS r
JOIN record_patch AS p ON p.record = r.record AND p.revision_id = r.revision_id AND p.position = r.patch_position
WHERE r.shown IS NOT NULL;

CREATE VIEW strip_density AS
SELECT c.strip_id, d.patch_key, d.patch_position, d.read_number, d.channel, d.shown, d.density, d.read_at, d.counts
FROM current_strip AS c JOIN record_density AS d ON d.record = 'strip' AND d.revision_id = c.revision_id;

CREATE VIEW lot_reference_density AS
SELECT c.lot_code, d.patch_key, d.patch_position, d.read_number, d.channel, d.shown, d.density, d.read_at, d.counts
FROM current_lot_reference AS c JOIN record_density AS d ON d.record = 'lot_reference' AND d.revision_id = c.revision_id;
