"""Tables as spreadsheets and forms save them: CSV or .xlsx in; rows with our column names out, within limits."""
