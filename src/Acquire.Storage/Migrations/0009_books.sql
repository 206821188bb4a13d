-- The books: lines and their methods, mixes and bottles, what was processed, strips in stock, events. Every column is explained in SCHEMA.md.
-- One row of book_entry says when, by whom and in which order; one row of the table named by its kind says what.

CREATE TABLE book_entry (
    sequence     INTEGER NOT NULL PRIMARY KEY,
    id           TEXT    NOT NULL UNIQUE CHECK (length(id) = 36 AND id = lower(id)),
    kind         TEXT    NOT NULL CHECK (kind IN
        ('process_line', 'line_method', 'solution', 'bottle', 'bottle_event', 'film_use', 'stock_move', 'book_event', 'withdrawal')),
    happened_at  TEXT    NOT NULL CHECK (happened_at LIKE '____-__-__T__:__:__._______+00:00'),
    entered_at   TEXT    NOT NULL CHECK (entered_at LIKE '____-__-__T__:__:__._______+00:00'),
    entered_by   TEXT    NOT NULL,
    note         TEXT
) STRICT;

CREATE INDEX book_entry_by_time ON book_entry (happened_at, sequence);

CREATE TABLE process_line (
    entry_id     TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    name         TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
    kind         TEXT NOT NULL CHECK (kind IN ('other', 'dip_tank', 'rotary', 'bench_top_machine', 'inversion')),
    process_key  TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE line_method (
    entry_id     TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    line_id      TEXT NOT NULL REFERENCES process_line (entry_id),
    agitation    TEXT,
    temperature  REAL CHECK (temperature IS NULL OR temperature BETWEEN -30 AND 100),
    seconds      REAL CHECK (seconds IS NULL OR seconds > 0),
    CHECK (coalesce(agitation, temperature, seconds) IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE solution (
    entry_id         TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    name             TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
    kind             TEXT NOT NULL CHECK (kind IN ('other', 'developer', 'first_developer', 'colour_developer', 'reversal_bath',
        'stop_bath', 'pre_bleach', 'bleach', 'bleach_fix', 'fixer', 'final_rinse')),
    process_key      TEXT NOT NULL,
    volume           REAL NOT NULL CHECK (volume > 0),
    concentrate_lot  TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE bottle (
    entry_id     TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    name         TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
    solution_id  TEXT NOT NULL REFERENCES solution (entry_id),
    volume       REAL NOT NULL CHECK (volume > 0),
    container    TEXT,
    capacity     REAL CHECK (capacity IS NULL OR capacity > 0),
    gas          TEXT,
    temperature  REAL CHECK (temperature IS NULL OR temperature BETWEEN -30 AND 100)
) STRICT, WITHOUT ROWID;

CREATE TABLE bottle_event (
    entry_id     TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    bottle_id    TEXT NOT NULL REFERENCES bottle (entry_id),
    kind         TEXT NOT NULL CHECK (kind IN ('opened', 'topped_up', 'poured', 'stored_anew', 'discarded')),
    volume       REAL CHECK (volume IS NULL OR volume > 0),
    container    TEXT,
    capacity     REAL CHECK (capacity IS NULL OR capacity > 0),
    gas          TEXT,
    temperature  REAL CHECK (temperature IS NULL OR temperature BETWEEN -30 AND 100),
    CHECK ((kind IN ('topped_up', 'poured')) = (volume IS NOT NULL)),
    CHECK ((kind = 'stored_anew') = (coalesce(container, capacity, gas, temperature) IS NOT NULL))
) STRICT, WITHOUT ROWID;

CREATE INDEX bottle_event_by_bottle ON bottle_event (bottle_id);

CREATE TABLE film_use (
    entry_id  TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    line_id   TEXT REFERENCES process_line (entry_id),
    strip_id  TEXT REFERENCES strip (id)
) STRICT, WITHOUT ROWID;

CREATE TABLE film_use_film (
    entry_id   TEXT    NOT NULL REFERENCES film_use (entry_id),
    position   INTEGER NOT NULL CHECK (position >= 1),
    format     TEXT    NOT NULL,
    count      INTEGER NOT NULL CHECK (count >= 1),
    area_each  REAL    NOT NULL CHECK (area_each > 0),
    PRIMARY KEY (entry_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE film_use_bottle (
    entry_id   TEXT    NOT NULL REFERENCES film_use (entry_id),
    position   INTEGER NOT NULL CHECK (position >= 1),
    bottle_id  TEXT    NOT NULL REFERENCES bottle (entry_id),
    PRIMARY KEY (entry_id, position),
    UNIQUE (entry_id, bottle_id)
) STRICT, WITHOUT ROWID;

CREATE INDEX film_use_bottle_by_bottle ON film_use_bottle (bottle_id);

CREATE TABLE stock_move (
    entry_id  TEXT    NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    lot_code  TEXT    NOT NULL COLLATE NOCASE REFERENCES lot (code),
    kind      TEXT    NOT NULL CHECK (kind IN ('added', 'taken', 'returned', 'used', 'spoiled')),
    strips    INTEGER NOT NULL CHECK (strips >= 1),
    strip_id  TEXT    REFERENCES strip (id)
) STRICT, WITHOUT ROWID;

CREATE TABLE book_event (
    entry_id   TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    kind       TEXT NOT NULL CHECK (kind IN ('other', 'new_mix', 'repair', 'temperature', 'new_lot', 'calibration', 'pause')),
    text       TEXT NOT NULL CHECK (text <> ''),
    line_id    TEXT REFERENCES process_line (entry_id),
    bottle_id  TEXT REFERENCES bottle (entry_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE withdrawal (
    entry_id      TEXT NOT NULL PRIMARY KEY REFERENCES book_entry (id),
    withdrawn_id  TEXT NOT NULL UNIQUE REFERENCES book_entry (id) CHECK (withdrawn_id <> entry_id),
    reason        TEXT NOT NULL CHECK (reason <> '')
) STRICT, WITHOUT ROWID;

-- The entries that count, in the order of what happened.
CREATE VIEW standing_entry AS
SELECT sequence, id AS entry_id, kind, happened_at, entered_at, entered_by, note
FROM book_entry
WHERE kind <> 'withdrawal' AND NOT EXISTS (SELECT 1 FROM withdrawal WHERE withdrawn_id = book_entry.id)
ORDER BY happened_at, sequence;

-- What went through each bottle, a row per use.
CREATE VIEW bottle_use AS
SELECT b.bottle_id, bottle.name AS bottle, e.happened_at, u.entry_id, u.line_id, u.strip_id,
       (SELECT sum(f.count * f.area_each) FROM film_use_film AS f WHERE f.entry_id = u.entry_id) AS area
FROM film_use_bottle AS b
JOIN bottle ON bottle.entry_id = b.bottle_id
JOIN film_use AS u ON u.entry_id = b.entry_id
JOIN standing_entry AS e ON e.entry_id = u.entry_id
ORDER BY e.happened_at, e.sequence;

CREATE TRIGGER book_entry_keeps      BEFORE UPDATE ON book_entry      BEGIN SELECT RAISE(ABORT, 'book_entry is append-only'); END;
CREATE TRIGGER book_entry_stays      BEFORE DELETE ON book_entry      BEGIN SELECT RAISE(ABORT, 'book_entry is append-only'); END;
CREATE TRIGGER process_line_keeps    BEFORE UPDATE ON process_line    BEGIN SELECT RAISE(ABORT, 'process_line is append-only'); END;
CREATE TRIGGER process_line_stays    BEFORE DELETE ON process_line    BEGIN SELECT RAISE(ABORT, 'process_line is append-only'); END;
CREATE TRIGGER line_method_keeps     BEFORE UPDATE ON line_method     BEGIN SELECT RAISE(ABORT, 'line_method is append-only'); END;
CREATE TRIGGER line_method_stays     BEFORE DELETE ON line_method     BEGIN SELECT RAISE(ABORT, 'line_method is append-only'); END;
CREATE TRIGGER solution_keeps        BEFORE UPDATE ON solution        BEGIN SELECT RAISE(ABORT, 'solution is append-only'); END;
CREATE TRIGGER solution_stays        BEFORE DELETE ON solution        BEGIN SELECT RAISE(ABORT, 'solution is append-only'); END;
CREATE TRIGGER bottle_keeps          BEFORE UPDATE ON bottle          BEGIN SELECT RAISE(ABORT, 'bottle is append-only'); END;
CREATE TRIGGER bottle_stays          BEFORE DELETE ON bottle          BEGIN SELECT RAISE(ABORT, 'bottle is append-only'); END;
CREATE TRIGGER bottle_event_keeps    BEFORE UPDATE ON bottle_event    BEGIN SELECT RAISE(ABORT, 'bottle_event is append-only'); END;
CREATE TRIGGER bottle_event_stays    BEFORE DELETE ON bottle_event    BEGIN SELECT RAISE(ABORT, 'bottle_event is append-only'); END;
CREATE TRIGGER film_use_keeps        BEFORE UPDATE ON film_use        BEGIN SELECT RAISE(ABORT, 'film_use is append-only'); END;
CREATE TRIGGER film_use_stays        BEFORE DELETE ON film_use        BEGIN SELECT RAISE(ABORT, 'film_use is append-only'); END;
CREATE TRIGGER film_use_film_keeps   BEFORE UPDATE ON film_use_film   BEGIN SELECT RAISE(ABORT, 'film_use_film is append-only'); END;
CREATE TRIGGER film_use_film_stays   BEFORE DELETE ON film_use_film   BEGIN SELECT RAISE(ABORT, 'film_use_film is append-only'); END;
CREATE TRIGGER film_use_bottle_keeps BEFORE UPDATE ON film_use_bottle BEGIN SELECT RAISE(ABORT, 'film_use_bottle is append-only'); END;
CREATE TRIGGER film_use_bottle_stays BEFORE DELETE ON film_use_bottle BEGIN SELECT RAISE(ABORT, 'film_use_bottle is append-only'); END;
CREATE TRIGGER stock_move_keeps      BEFORE UPDATE ON stock_move      BEGIN SELECT RAISE(ABORT, 'stock_move is append-only'); END;
CREATE TRIGGER stock_move_stays      BEFORE DELETE ON stock_move      BEGIN SELECT RAISE(ABORT, 'stock_move is append-only'); END;
CREATE TRIGGER book_event_keeps      BEFORE UPDATE ON book_event      BEGIN SELECT RAISE(ABORT, 'book_event is append-only'); END;
CREATE TRIGGER book_event_stays      BEFORE DELETE ON book_event      BEGIN SELECT RAISE(ABORT, 'book_event is append-only'); END;
CREATE TRIGGER withdrawal_keeps      BEFORE UPDATE ON withdrawal      BEGIN SELECT RAISE(ABORT, 'withdrawal is append-only'); END;
CREATE TRIGGER withdrawal_stays      BEFORE DELETE ON withdrawal      BEGIN SELECT RAISE(ABORT, 'withdrawal is append-only'); END;
