-- Version 2, and why:
--   burner hours and lock-outs belong to an appliance, which version 1 could not name;
--   a reading of the wrong cylinder has no right value: it must be possible to withdraw it;
--   two corrections of one reading left open which of them counts: now each reading is corrected
--   once, and the later correction corrects the earlier one;
--   the text of a temperature is kept like that of a value;
--   a program must not be able to change or delete what a person entered.

CREATE TABLE fresh (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,             -- clock of the place, ISO 8601 without UTC offset
    utc_offset INTEGER,             -- s east of UTC; NULL where nobody said
    cylinder TEXT,                  -- NULL where it is not about a cylinder
    appliance TEXT,                 -- NULL where it is not about an appliance
    kind TEXT NOT NULL,
    value REAL,                     -- SI; NULL for an event
    written TEXT NOT NULL,          -- as the person wrote it
    temperature REAL,               -- K
    temperature_written TEXT NOT NULL,
    note TEXT NOT NULL,
    entered TEXT NOT NULL,          -- UTC, ISO 8601
    corrects INTEGER UNIQUE REFERENCES fresh (id),
    CHECK (corrects < id),
    CHECK (typeof(value) IN ('real', 'null')),
    CHECK (typeof(temperature) IN ('real', 'null'))
);

-- All corrections of one reading, of corrections of it and so on, become one chain by age.
WITH RECURSIVE family (id, root) AS (
    SELECT id, id FROM reading WHERE corrects IS NULL
    UNION ALL
    SELECT reading.id, family.root FROM reading JOIN family ON reading.corrects = family.id
)
INSERT INTO fresh
SELECT reading.id, time, utc_offset, nullif(cylinder, ''), NULL, kind, value, written, temperature,
    CASE WHEN temperature IS NULL THEN '' ELSE printf('%!.15g K', temperature) END, note, entered,
    lag(reading.id) OVER (PARTITION BY coalesce(family.root, reading.id) ORDER BY reading.id)
FROM reading LEFT JOIN family ON reading.id = family.id
ORDER BY reading.id;

DROP TABLE reading;
ALTER TABLE fresh RENAME TO reading;

CREATE INDEX reading_of ON reading (cylinder, kind, time);

CREATE TABLE withdrawal (
    reading INTEGER PRIMARY KEY REFERENCES reading (id),
    because TEXT NOT NULL,
    entered TEXT NOT NULL           -- UTC, ISO 8601
);

CREATE TRIGGER reading_stays BEFORE UPDATE ON reading
BEGIN SELECT raise(ABORT, 'a reading is corrected by a new one, never changed'); END;

CREATE TRIGGER reading_is_kept BEFORE DELETE ON reading
BEGIN SELECT raise(ABORT, 'a reading is withdrawn, never deleted'); END;

CREATE TRIGGER withdrawal_stays BEFORE UPDATE ON withdrawal
BEGIN SELECT raise(ABORT, 'a withdrawal is never changed'); END;

CREATE TRIGGER withdrawal_is_kept BEFORE DELETE ON withdrawal
BEGIN SELECT raise(ABORT, 'a withdrawal is never deleted'); END;
