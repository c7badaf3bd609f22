"""The revisions. One that was released is never changed; a new one follows it."""
