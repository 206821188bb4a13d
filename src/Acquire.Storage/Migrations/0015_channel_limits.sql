-- The limits of single channels, beside those that hold in all. They need a table of their own: the seals name a row by its primary key, so that of
-- process_limit cannot grow by a channel. Sheets that are there already are read for them.

CREATE TABLE process_channel_limit (
    process_hash    TEXT    NOT NULL REFERENCES process_snapshot (hash),
    position        INTEGER NOT NULL CHECK (position >= 1),
    parameter_key   TEXT    NOT NULL,
    parameter_name  TEXT    NOT NULL,
    channel         TEXT    NOT NULL CHECK (channel IN ('red', 'green', 'blue', 'visual')),
    kind            TEXT    NOT NULL CHECK (kind IN ('action', 'control')),
    lower           REAL    CHECK (lower IS NULL OR lower <= 0),
    upper           REAL    CHECK (upper IS NULL OR upper >= 0),
    source          TEXT,
    PRIMARY KEY (process_hash, position, channel, kind),
    CHECK ((coalesce(lower, upper) IS NULL) = (source IS NULL))
) STRICT, WITHOUT ROWID;

INSERT INTO process_channel_limit (process_hash, position, parameter_key, parameter_name, channel, kind, lower, upper, source)
SELECT s.hash, p.key + 1, p.value ->> 'key', p.value ->> 'name', c.value ->> 'channel', k.value,
       c.value -> k.value ->> 'lower', c.value -> k.value ->> 'upper', c.value -> k.value ->> 'source'
FROM process_snapshot AS s, json_each(s.sheet, '$.parameters') AS p, json_each(p.value, '$.channel_limits') AS c,
     json_each('["action", "control"]') AS k;

CREATE TRIGGER process_channel_limit_keeps BEFORE UPDATE ON process_channel_limit
BEGIN SELECT RAISE(ABORT, 'process_channel_limit is append-only'); END;
CREATE TRIGGER process_channel_limit_stays BEFORE DELETE ON process_channel_limit
BEGIN SELECT RAISE(ABORT, 'process_channel_limit is append-only'); END;

DROP VIEW strip_limit;

CREATE VIEW strip_limit AS
SELECT c.strip_id, l.parameter_key, l.parameter_name, l.kind, l.lower, l.upper, l.source, NULL AS channel
FROM current_strip AS c JOIN process_limit AS l ON l.process_hash = c.process_hash
UNION ALL
SELECT c.strip_id, l.parameter_key, l.parameter_name, l.kind, l.lower, l.upper, l.source, l.channel
FROM current_strip AS c JOIN process_channel_limit AS l ON l.process_hash = c.process_hash;
