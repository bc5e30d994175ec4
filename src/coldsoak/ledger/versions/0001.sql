-- Version 1: what a scale and a thermometer say about a cylinder, and what corrects what.

CREATE TABLE trip (
    name TEXT NOT NULL,
    begun TEXT NOT NULL             -- UTC, ISO 8601
);

CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,             -- clock of the place, ISO 8601 without UTC offset
    utc_offset INTEGER,             -- s east of UTC; NULL where nobody said
    cylinder TEXT NOT NULL,         -- '' for the whole rig
    kind TEXT NOT NULL,
    value REAL,                     -- SI; NULL for an event
    written TEXT NOT NULL,          -- as the person wrote it
    temperature REAL,               -- K
    note TEXT NOT NULL,
    entered TEXT NOT NULL,          -- UTC, ISO 8601
    corrects INTEGER REFERENCES reading (id)
);
