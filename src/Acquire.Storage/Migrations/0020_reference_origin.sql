-- How the values of a reference that a person entered came about: read so often with this instrument, or from the maker's list with an uncertainty of
-- its own. A table beside the revisions, as their rows are sealed and never change; no row where nobody said.

CREATE TABLE lot_reference_origin (
    revision_id       INTEGER NOT NULL PRIMARY KEY REFERENCES lot_reference_revision (revision_id),
    reads             INTEGER CHECK (reads >= 1),
    profile           TEXT,
    list_uncertainty  REAL CHECK (list_uncertainty >= 0 AND list_uncertainty < 1),
    CHECK ((reads IS NULL) <> (list_uncertainty IS NULL)),
    CHECK (profile IS NULL OR reads IS NOT NULL)
) STRICT;

CREATE TRIGGER lot_reference_origin_keeps BEFORE UPDATE ON lot_reference_origin
BEGIN SELECT RAISE(ABORT, 'lot_reference_origin is append-only'); END;
CREATE TRIGGER lot_reference_origin_stays BEFORE DELETE ON lot_reference_origin
BEGIN SELECT RAISE(ABORT, 'lot_reference_origin is append-only'); END;
