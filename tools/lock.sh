#!/bin/sh
# Write the lock files: exact versions and hashes for every platform, no index host.
set -eu
compile() { "$UV" pip compile --generate-hashes --universal --python-version 3.11 --quiet --no-header "$@"; }
compile pyproject.toml --all-extras --group dev --group build -o requirements-dev.lock
compile pyproject.toml --all-extras -c requirements-dev.lock -o requirements.lock
compile --group build -c requirements-dev.lock -o requirements-build.lock
