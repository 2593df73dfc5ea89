#!/bin/sh
# Before the files go: dpkg says "remove", rpm 0. An update says something else.
set -e
case "$1" in
  remove | 0) ;;
  *) exit 0 ;;
esac
command -v systemctl >/dev/null || exit 0
[ ! -d /run/systemd/system ] || systemctl stop cornerwise.service
systemctl disable cornerwise.service
