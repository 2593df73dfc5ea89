#!/bin/sh
# After the files are there: dpkg says "configure" and the version before, rpm how many there are.
set -e
first=no
case "$1" in
  configure) [ -n "$2" ] || first=yes ;;
  1) first=yes ;;
  2) ;;
  *) exit 0 ;;
esac
command -v systemctl >/dev/null || exit 0
systemd-sysusers cornerwise.conf
[ ! -d /run/systemd/system ] || systemctl daemon-reload
if [ $first = yes ]; then
  systemctl enable cornerwise.service
  [ ! -d /run/systemd/system ] || systemctl start cornerwise.service
  echo 'Cornerwise serves on port 8370. "cornerwise pair" lets in a tablet;'
  echo 'see /usr/share/doc/cornerwise/SERVICE.txt.'
elif [ -d /run/systemd/system ]; then
  systemctl try-restart cornerwise.service
fi
