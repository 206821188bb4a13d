-- What was asked while a strip was read because a reading looked like a mistake, and what was done to a read after it was taken.

ALTER TABLE strip_read              ADD COLUMN note TEXT;
ALTER TABLE lot_reference_read      ADD COLUMN note TEXT;
ALTER TABLE calibration_check_read  ADD COLUMN note TEXT;
ALTER TABLE repeatability_test_read ADD COLUMN note TEXT;
ALTER TABLE reference_recheck_read  ADD COLUMN note TEXT;

CREATE TABLE strip_question (
    revision_id  INTEGER NOT NULL REFERENCES strip_revision (revision_id),
    position     INTEGER NOT NULL CHECK (position >= 1),
    kind         TEXT    NOT NULL,
    question     TEXT    NOT NULL,
    remedy       TEXT    NOT NULL,
    evidence     REAL    NOT NULL,
    asked_at     TEXT    NOT NULL CHECK (asked_at LIKE '____-__-__T__:__:__._______+00:00'),
    answer       TEXT    NOT NULL CHECK (answer IN ('unanswered', 'accepted', 'dismissed')),
    answered_at  TEXT    CHECK (answered_at LIKE '____-__-__T__:__:__._______+00:00'),
    PRIMARY KEY (revision_id, position),
    CHECK ((answer = 'unanswered') = (answered_at IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TRIGGER strip_question_keeps BEFORE UPDATE ON strip_question BEGIN SELECT RAISE(ABORT, 'strip_question is append-only'); END;
CREATE TRIGGER strip_question_stays BEFORE DELETE ON strip_question BEGIN SELECT RAISE(ABORT, 'strip_question is append-only'); END;
