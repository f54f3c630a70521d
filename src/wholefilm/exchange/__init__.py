"""Tables and workbooks: files to rows and back, with limits on size; no store, no clock."""
