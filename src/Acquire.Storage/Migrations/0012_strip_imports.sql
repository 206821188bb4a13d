-- Where imported strips came from, and the ids they name that lie in the store they were exported from.

CREATE TABLE strip_import (
    revision_id       INTEGER NOT NULL PRIMARY KEY REFERENCES strip_revision (revision_id),
    file              TEXT    NOT NULL,
    file_hash         TEXT    NOT NULL CHECK (length(file_hash) = 64),
    file_line         INTEGER NOT NULL CHECK (file_line >= 1),
    name              TEXT,
    session_id        TEXT,
    reference_id      TEXT,
    check_id          TEXT,
    repeatability_id  TEXT,
    confirms          TEXT,
    reread_of         TEXT,
    paired_with       TEXT
) STRICT;

CREATE TRIGGER strip_import_keeps BEFORE UPDATE ON strip_import BEGIN SELECT RAISE(ABORT, 'strip_import is append-only'); END;
CREATE TRIGGER strip_import_stays BEFORE DELETE ON strip_import BEGIN SELECT RAISE(ABORT, 'strip_import is append-only'); END;
