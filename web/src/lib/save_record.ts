// Writes a record to the book or takes one out. Unlike the notebook's entries this needs the server at
// once: two phones that change the same record could not be joined later. The server is told which
// record was seen, and changes nothing where it is another by now.

import { answer_of, api, type Answer } from './api';
import type { RoomRecord } from './records';

/** `seen`: the tag of the record that it replaces; null: it is a new one. */
export function put_record(kind: string, id: string, record: RoomRecord, seen: string | null): Promise<Answer<RoomRecord>> {
  const header = seen === null ? { 'If-None-Match': '*' } : { 'If-Match': seen };
  return answer_of<RoomRecord>(api.PUT('/api/records/{kind}/{id}', { params: { path: { kind, id }, header }, body: record }));
}

export function remove_record(kind: string, id: string, seen: string | null): Promise<Answer<unknown>> {
  return answer_of<unknown>(api.DELETE('/api/records/{kind}/{id}', { params: { path: { kind, id }, header: { 'If-Match': seen ?? '*' } } }));
}
