"""Reading workbooks (.xlsx) that come from anywhere: streamed part by part, within limits, no formula ever worked."""
