-- What is shown, judged or exported is checked against its seals as it is loaded; without an index each look would go through all seals.

CREATE INDEX row_seal_row ON row_seal (table_name, row_key);
