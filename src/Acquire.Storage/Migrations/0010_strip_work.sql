-- What ties strips to each other, how they were handled, and aims that a crossover adjusted or that five own strips made.

ALTER TABLE strip_revision ADD COLUMN confirms    TEXT REFERENCES strip (id);
ALTER TABLE strip_revision ADD COLUMN reread_of   TEXT REFERENCES strip (id);
ALTER TABLE strip_revision ADD COLUMN treatment   TEXT CHECK (treatment IN ('none', 're_bleach', 're_fix', 're_wash', 'drying'));
ALTER TABLE strip_revision ADD COLUMN paired_with TEXT REFERENCES strip (id);
ALTER TABLE strip_revision ADD COLUMN handling    TEXT;
ALTER TABLE strip_aim      ADD COLUMN adjustment  REAL NOT NULL DEFAULT 0;

CREATE TABLE lot_reference_strip (
    reference_id  TEXT    NOT NULL REFERENCES lot_reference (id),
    position      INTEGER NOT NULL CHECK (position >= 1),
    strip_id      TEXT    NOT NULL REFERENCES strip (id),
    PRIMARY KEY (reference_id, position),
    UNIQUE (reference_id, strip_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE aim_adjustment (
    adjustment_id  INTEGER PRIMARY KEY,
    id             TEXT NOT NULL UNIQUE CHECK (length(id) = 36 AND id = lower(id)),
    lot_code       TEXT NOT NULL COLLATE NOCASE REFERENCES lot (code),
    reference_id   TEXT NOT NULL REFERENCES lot_reference (id),
    from_lot_code  TEXT NOT NULL COLLATE NOCASE REFERENCES lot (code),
    made_by        TEXT NOT NULL,
    made_at        TEXT NOT NULL CHECK (made_at LIKE '____-__-__T__:__:__._______+00:00'),
    reason         TEXT NOT NULL,
    added_at       TEXT NOT NULL CHECK (added_at LIKE '____-__-__T__:__:__._______+00:00'),
    CHECK (lot_code <> from_lot_code)
) STRICT;

CREATE TABLE aim_adjustment_value (
    adjustment_id         INTEGER NOT NULL REFERENCES aim_adjustment (adjustment_id),
    position              INTEGER NOT NULL CHECK (position >= 1),
    patch_key             TEXT    NOT NULL COLLATE NOCASE,
    channel               TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    value                 REAL    NOT NULL CHECK (value BETWEEN -0.5 AND 0.5),
    standard_uncertainty  REAL    NOT NULL CHECK (standard_uncertainty >= 0),
    PRIMARY KEY (adjustment_id, position),
    UNIQUE (adjustment_id, patch_key, channel)
) STRICT, WITHOUT ROWID;

CREATE TABLE aim_adjustment_pair (
    adjustment_id  INTEGER NOT NULL REFERENCES aim_adjustment (adjustment_id),
    position       INTEGER NOT NULL CHECK (position >= 1),
    old_strip_id   TEXT    NOT NULL REFERENCES strip (id),
    new_strip_id   TEXT    NOT NULL REFERENCES strip (id),
    PRIMARY KEY (adjustment_id, position)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER lot_reference_strip_keeps  BEFORE UPDATE ON lot_reference_strip  BEGIN SELECT RAISE(ABORT, 'lot_reference_strip is append-only'); END;
CREATE TRIGGER lot_reference_strip_stays  BEFORE DELETE ON lot_reference_strip  BEGIN SELECT RAISE(ABORT, 'lot_reference_strip is append-only'); END;
CREATE TRIGGER aim_adjustment_keeps       BEFORE UPDATE ON aim_adjustment       BEGIN SELECT RAISE(ABORT, 'aim_adjustment is append-only'); END;
CREATE TRIGGER aim_adjustment_stays       BEFORE DELETE ON aim_adjustment       BEGIN SELECT RAISE(ABORT, 'aim_adjustment is append-only'); END;
CREATE TRIGGER aim_adjustment_value_keeps BEFORE UPDATE ON aim_adjustment_value BEGIN SELECT RAISE(ABORT, 'aim_adjustment_value is append-only'); END;
CREATE TRIGGER aim_adjustment_value_stays BEFORE DELETE ON aim_adjustment_value BEGIN SELECT RAISE(ABORT, 'aim_adjustment_value is append-only'); END;
CREATE TRIGGER aim_adjustment_pair_keeps  BEFORE UPDATE ON aim_adjustment_pair  BEGIN SELECT RAISE(ABORT, 'aim_adjustment_pair is append-only'); END;
CREATE TRIGGER aim_adjustment_pair_stays  BEFORE DELETE ON aim_adjustment_pair  BEGIN SELECT RAISE(ABORT, 'aim_adjustment_pair is append-only'); END;
