-- A seal for every row of every table, so that a row that another program or a failing disk changed is told from one that is as it was written.
-- SQLite has no SHA-256, so the program writes the seals, with triggers of its own connection.

CREATE TABLE row_seal (
    sequence    INTEGER PRIMARY KEY,
    table_name  TEXT NOT NULL,
    row_key     TEXT NOT NULL,
    hash        BLOB NOT NULL CHECK (length(hash) = 32)
) STRICT;

CREATE TRIGGER row_seal_keeps BEFORE UPDATE ON row_seal BEGIN SELECT RAISE(ABORT, 'row_seal is append-only'); END;
CREATE TRIGGER row_seal_stays BEFORE DELETE ON row_seal BEGIN SELECT RAISE(ABORT, 'row_seal is append-only'); END;
