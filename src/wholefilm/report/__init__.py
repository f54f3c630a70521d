"""The test report: sheets and drawings set as PDF, with the record inside."""
