-- A journal as version 1 wrote it, frozen: an invented trip, and two corrections of one reading.
PRAGMA application_id = 1668246628;
PRAGMA user_version = 1;
CREATE TABLE trip (
    name TEXT NOT NULL,
    begun TEXT NOT NULL
);
CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    utc_offset INTEGER,
    cylinder TEXT NOT NULL,
    kind TEXT NOT NULL,
    value REAL,
    written TEXT NOT NULL,
    temperature REAL,
    note TEXT NOT NULL,
    entered TEXT NOT NULL,
    corrects INTEGER REFERENCES reading (id)
);
INSERT INTO trip VALUES ('Invented hut, two nights', '2026-01-16T22:00:00.000000+00:00');
INSERT INTO reading VALUES
(1, '2026-01-16T15:30:00', NULL, 'A', 'gross weight', 16.102529135, '35.5 lb', 253.15, '', '2026-01-16T22:31:00.000000+00:00', NULL),
(2, '2026-01-16T15:35:00', -25200, '', 'outside temperature', 253.15, '-20 degC', NULL, 'in the shade', '2026-01-16T22:36:00.000000+00:00', NULL),
(3, '2026-01-17T07:30:00', NULL, 'A', 'gross weight', 14.152081944, '31.2 lb', NULL, '', '2026-01-17T14:31:00.000000+00:00', NULL),
(4, '2026-01-17T07:30:00', NULL, 'A', 'gross weight', 14.061363470, '31.0 lb', NULL, 'read again', '2026-01-17T14:32:00.000000+00:00', 3),
(5, '2026-01-17T07:31:00', NULL, 'B', 'gross weight', 16.0, '16 kg', NULL, '', '2026-01-17T14:33:00.000000+00:00', NULL),
(6, '2026-01-17T07:30:00', NULL, 'A', 'gross weight', 14.106722707, '31.1 lb', NULL, 'and again', '2026-01-17T14:34:00.000000+00:00', 3),
(7, '2026-01-17T07:30:00', NULL, 'A', 'gross weight', 14.197441181, '31.3 lb', 252.65, 'the first was right after all', '2026-01-17T14:35:00.000000+00:00', 4);
