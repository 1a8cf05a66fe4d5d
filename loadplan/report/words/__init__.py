"""Words: numbers, tables in columns, findings told once, cautions and boxes to tick; draws nothing."""
