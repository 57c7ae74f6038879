"""The workbook in a real browser: every lesson run, its panels used, their access checked."""
