-- What instruments sent while nobody read with them: the service listens all the same, and a reading that came so may be taken into a session later.

CREATE TABLE listening (
    id            TEXT    NOT NULL PRIMARY KEY,
    instrument    TEXT    NOT NULL,
    port          TEXT    NOT NULL,
    profile_hash  TEXT    NOT NULL REFERENCES profile_text (hash),
    began_at      TEXT    NOT NULL CHECK (began_at LIKE '____-__-__T__:__:__._______+00:00')
) STRICT, WITHOUT ROWID;

CREATE TABLE listening_entry (
    listening_id  TEXT    NOT NULL REFERENCES listening (id),
    sequence      INTEGER NOT NULL CHECK (sequence >= 1),
    at            TEXT    NOT NULL CHECK (at LIKE '____-__-__T__:__:__._______+00:00'),
    event         TEXT    NOT NULL CHECK (event IN ('opened', 'received', 'paused', 'broke')),
    bytes         BLOB,
    PRIMARY KEY (listening_id, sequence),
    CHECK ((event = 'received') = (bytes IS NOT NULL))
) STRICT, WITHOUT ROWID;

-- A loose reading is named by the entry that completed it, and by which of the readings it is that this entry completed.
CREATE TABLE loose_taken (
    listening_id  TEXT    NOT NULL REFERENCES listening (id),
    sequence      INTEGER NOT NULL CHECK (sequence >= 1),
    part          INTEGER NOT NULL CHECK (part >= 1),
    session_id    TEXT    NOT NULL REFERENCES bench_session (id),
    PRIMARY KEY (listening_id, sequence, part)
) STRICT, WITHOUT ROWID;

-- The sessions that a service leads: when it is started again, it goes on with those that have no end.
CREATE TABLE service_session (
    session_id  TEXT    NOT NULL PRIMARY KEY REFERENCES bench_session (id),
    keep_after  REAL    CHECK (keep_after >= 0)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER listening_keeps       BEFORE UPDATE ON listening       BEGIN SELECT RAISE(ABORT, 'listening is append-only'); END;
CREATE TRIGGER listening_stays       BEFORE DELETE ON listening       BEGIN SELECT RAISE(ABORT, 'listening is append-only'); END;
CREATE TRIGGER listening_entry_keeps BEFORE UPDATE ON listening_entry BEGIN SELECT RAISE(ABORT, 'listening_entry is append-only'); END;
CREATE TRIGGER listening_entry_stays BEFORE DELETE ON listening_entry BEGIN SELECT RAISE(ABORT, 'listening_entry is append-only'); END;
CREATE TRIGGER loose_taken_keeps     BEFORE UPDATE ON loose_taken     BEGIN SELECT RAISE(ABORT, 'loose_taken is append-only'); END;
CREATE TRIGGER loose_taken_stays     BEFORE DELETE ON loose_taken     BEGIN SELECT RAISE(ABORT, 'loose_taken is append-only'); END;
CREATE TRIGGER service_session_keeps BEFORE UPDATE ON service_session BEGIN SELECT RAISE(ABORT, 'service_session is append-only'); END;
CREATE TRIGGER service_session_stays BEFORE DELETE ON service_session BEGIN SELECT RAISE(ABORT, 'service_session is append-only'); END;
