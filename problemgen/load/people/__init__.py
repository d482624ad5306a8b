"""Who is in a class and what they handed in: tables in; rosters, responses, decisions and meanings out."""
