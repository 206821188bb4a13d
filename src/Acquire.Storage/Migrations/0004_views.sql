-- Views for other programs: the newest revisions only, and densities as numbers.

CREATE VIEW current_strip AS
SELECT r.strip_id, r.revision, r.revision_id, r.lot_code, s.key AS process_key, r.process_hash, r.reference_id, r.line, r.bottle,
       r.note, r.read_at, r.read_by, r.session_id
FROM strip_revision AS r JOIN process_snapshot AS s ON s.hash = r.process_hash
WHERE r.revision = (SELECT max(n.revision) FROM strip_revision AS n WHERE n.strip_id = r.strip_id);

CREATE VIEW current_lot_reference AS
SELECT r.lot_code, r.reference_id, r.revision, r.revision_id, r.read_at, r.read_by, r.session_id
FROM lot_reference_revision AS r
WHERE r.revision_id = (SELECT max(n.revision_id) FROM lot_reference_revision AS n WHERE n.lot_code = r.lot_code);

CREATE VIEW strip_density AS
SELECT c.strip_id, p.key AS patch_key, p.position AS patch_position, r.read_number, 'red' AS channel,
       r.red AS shown, CAST(r.red AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_strip AS c JOIN strip_patch AS p USING (revision_id)
JOIN strip_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.red IS NOT NULL
UNION ALL
SELECT c.strip_id, p.key AS patch_key, p.position AS patch_position, r.read_number, 'green' AS channel,
       r.green AS shown, CAST(r.green AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_strip AS c JOIN strip_patch AS p USING (revision_id)
JOIN strip_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.green IS NOT NULL
UNION ALL
SELECT c.strip_id, p.key AS patch_key, p.position AS patch_position, r.read_number, 'blue' AS channel,
       r.blue AS shown, CAST(r.blue AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_strip AS c JOIN strip_patch AS p USING (revision_id)
JOIN strip_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.blue IS NOT NULL
UNION ALL
SELECT c.strip_id, p.key AS patch_key, p.position AS patch_position, r.read_number, 'visual' AS channel,
       r.visual AS shown, CAST(r.visual AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_strip AS c JOIN strip_patch AS p USING (revision_id)
JOIN strip_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.visual IS NOT NULL;

CREATE VIEW lot_reference_density AS
SELECT c.lot_code, p.key AS patch_key, p.position AS patch_position, r.read_number, 'red' AS channel,
       r.red AS shown, CAST(r.red AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_lot_reference AS c JOIN lot_reference_patch AS p USING (revision_id)
JOIN lot_reference_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.red IS NOT NULL
UNION ALL
SELECT c.lot_code, p.key AS patch_key, p.position AS patch_position, r.read_number, 'green' AS channel,
       r.green AS shown, CAST(r.green AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_lot_reference AS c JOIN lot_reference_patch AS p USING (revision_id)
JOIN lot_reference_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.green IS NOT NULL
UNION ALL
SELECT c.lot_code, p.key AS patch_key, p.position AS patch_position, r.read_number, 'blue' AS channel,
       r.blue AS shown, CAST(r.blue AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_lot_reference AS c JOIN lot_reference_patch AS p USING (revision_id)
JOIN lot_reference_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.blue IS NOT NULL
UNION ALL
SELECT c.lot_code, p.key AS patch_key, p.position AS patch_position, r.read_number, 'visual' AS channel,
       r.visual AS shown, CAST(r.visual AS REAL) AS density, r.read_at,
       p.left_out_reason IS NULL AND r.excluded_reason IS NULL AS counts
FROM current_lot_reference AS c JOIN lot_reference_patch AS p USING (revision_id)
JOIN lot_reference_read AS r ON r.revision_id = p.revision_id AND r.patch_position = p.position WHERE r.visual IS NOT NULL;

CREATE VIEW strip_limit AS
SELECT c.strip_id, l.parameter_key, l.parameter_name, l.kind, l.lower, l.upper, l.source
FROM current_strip AS c JOIN process_limit AS l ON l.process_hash = c.process_hash;

CREATE VIEW session_state AS
SELECT s.id AS session_id, s.kind, s.lot_code, s.read_at, s.read_by, e.outcome, e.ended_at, e.reason,
       (SELECT count(*) FROM session_line AS l WHERE l.session_id = s.id) AS lines
FROM bench_session AS s LEFT JOIN session_end AS e ON e.session_id = s.id;
