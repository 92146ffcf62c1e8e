"""The book: tables, opening it by file or address, queries, migrations. Rows never leave here; plain values do."""
