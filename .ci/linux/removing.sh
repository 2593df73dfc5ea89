#!/bin/sh
# Before the files go: dpkg says "remove", rpm 0. An update says something else. The quilts stay:
# they are nobody's settings. There is no script for after it: dpkg would keep the package's name for
# that, take one that is put back for an update, and not start it.
set -e
case "$1" in
  remove | 0) ;;
  *) exit 0 ;;
esac
[ ! -d /var/lib/cornerwise ] || echo 'The quilts stay in /var/lib/cornerwise.'
command -v systemctl >/dev/null || exit 0
[ ! -d /run/systemd/system ] || systemctl stop cornerwise.service
systemctl disable cornerwise.service
