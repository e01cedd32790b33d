#!/bin/sh
# A report is audited by the version that made it: audit-old.sh VERSION PATH… [options of audit …]
# Only that version makes the same pages, byte for byte. The version is taken from
#   WAYSHEET_PACKAGES, a folder of kept packages (waysheet-0.5.0.tgz, as `npm pack` writes them), or, without it,
#   from the registry that npm is configured for.
# The exit status is that of the audit.
set -eu
if [ $# -lt 2 ]; then
  echo "usage: audit-old.sh VERSION PATH… [options]" >&2
  exit 2
fi
version=$1
shift
case $version in
  *[!0-9.]* | '')
    echo "audit-old.sh: '$version' is not a version such as 0.5.0" >&2
    exit 2
    ;;
esac
package=waysheet@$version
if [ -n "${WAYSHEET_PACKAGES:-}" ]; then
  package=$(cd "$WAYSHEET_PACKAGES" && pwd)/waysheet-$version.tgz
  if [ ! -f "$package" ]; then
    echo "audit-old.sh: there is no $package: keep the package of each version that issues reports (npm pack)" >&2
    exit 1
  fi
fi
exec npm exec --yes --package "$package" -- waysheet audit "$@"
