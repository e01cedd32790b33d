#!/bin/sh
# An archive in parts by GNU parallel: parallel.sh JOBS OUT PARTS [options of batch …]
# WAYSHEET is the command (default: waysheet). For several machines add, before the `:::`,
#   --sshlogin host1,host2
# where JOBS and OUT are on a disk that all of them see.
set -eu
jobs=$1 out=$2 parts=$3
shift 3
: "${WAYSHEET:=waysheet}"
export WAYSHEET

# Status 3 (jobs refused) is a result; 1 is tried twice more.
part() {
  status=0
  i=$1 n=$2 jobs=$3 out=$4
  shift 4
  $WAYSHEET batch "$jobs" --out "$out" --shard "$i/$n" --jobs 1 "$@" || status=$?
  [ "$status" -eq 3 ] || return "$status"
}

if [ "${1:-}" = --part ]; then
  shift
  part "$@"
  exit
fi

parallel --quote --will-cite --retries 3 --halt now,fail=1 \
  "$0" "$jobs" "$out" "$parts" --part {} "$parts" "$jobs" "$out" "$@" ::: $(seq 1 "$parts")
exec $WAYSHEET merge "$out" --of "$jobs"
