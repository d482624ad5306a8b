"""Problems with fixed numbers: a JSON file or Python data in; problems ready to be solved out."""
