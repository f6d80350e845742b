// Writes a record to the book or takes one out. Unlike the notebook's entries this needs the server at
// once: two phones that change the same record could not be joined later.

import { answer_of, api, type Answer } from './api';
import type { RoomRecord } from './records';

export function put_record(kind: string, id: string, record: RoomRecord): Promise<Answer<RoomRecord>> {
  return answer_of<RoomRecord>(api.PUT('/api/records/{kind}/{id}', { params: { path: { kind, id } }, body: record }));
}

export function remove_record(kind: string, id: string): Promise<Answer<unknown>> {
  return answer_of<unknown>(api.DELETE('/api/records/{kind}/{id}', { params: { path: { kind, id } } }));
}
