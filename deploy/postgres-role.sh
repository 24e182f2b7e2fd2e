#!/bin/sh
# Run once by the PostgreSQL container: the bot gets a database and a role of its own, which is no superuser, so
# that PostgreSQL's fence between keepers binds it.
set -eu
psql -v ON_ERROR_STOP=1 -U "$POSTGRES_USER" -v secret="$(cat /run/secrets/postgres_password)" <<'SQL'
CREATE ROLE burrowbell LOGIN PASSWORD :'secret';
CREATE DATABASE burrowbell OWNER burrowbell;
SQL
