"""Validates samples against the schema of the build file with python3-jsonschema.

Usage: schema_validate.py SCHEMA SAMPLES. Each line of SAMPLES is a JSON text; for each, prints 1 (valid) or 0.
Exit code 77: no validator of draft 2020-12 is installed.
"""

import json
import sys

try:
    from jsonschema import Draft202012Validator
except ImportError:
    sys.exit(77)

with open(sys.argv[1], encoding="utf-8") as stream:
    schema = json.load(stream)
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
with open(sys.argv[2], encoding="utf-8") as stream:
    for line in stream:
        print(1 if validator.is_valid(json.loads(line)) else 0)
