ALTER TABLE strip_revision ADD COLUMN repeatability_id TEXT REFERENCES repeatability_test (id);

CREATE TABLE strip_repeatability (
    revision_id         INTEGER NOT NULL REFERENCES strip_revision (revision_id),
    channel             TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    standard_deviation  REAL    NOT NULL CHECK (standard_deviation >= 0),
    degrees_of_freedom  INTEGER NOT NULL CHECK (degrees_of_freedom >= 1),
    PRIMARY KEY (revision_id, channel)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER strip_repeatability_keeps BEFORE UPDATE ON strip_repeatability BEGIN SELECT RAISE(ABORT, 'strip_repeatability is append-only'); END;
CREATE TRIGGER strip_repeatability_stays BEFORE DELETE ON strip_repeatability BEGIN SELECT RAISE(ABORT, 'strip_repeatability is append-only'); END;
