#!/bin/sh
# PostgreSQL's archive_command: keeps one finished piece of its write-ahead log.   sh archive-log.sh PATH NAME FOLDER
#
# Compressed, as a piece that is archived for its age is mostly empty.
# A piece of the final name is whole and on the disk. One that is there already is never overwritten: the same content is
# what a server that died before it noted its success sends again; other content is another database's.
set -eu
path=$1 kept=$3/$2.gz
if [ -e "$kept" ]; then
  gunzip -c "$kept" | cmp -s "$path" - && exit 0
  echo "$kept holds another piece of log: give each database, and each recovered one, an archive folder of its own." >&2
  exit 1
fi
unfinished=$kept.unfinished
gzip -c "$path" > "$unfinished"
sync "$unfinished"
mv "$unfinished" "$kept"
sync "$3"
