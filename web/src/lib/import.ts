// Reading room files and notebooks into the book: what may be chosen, and what the server says of it.

import { answer_of, api, type Answer } from './api';
import type { components } from './api_types';

export type ImportFile = components['schemas']['ImportFile'];
export type ImportReport = components['schemas']['ImportReport'];

// As the server has it (docs/app.md, limits; docs/openapi.json, Import).
const kMostBytes = 8 * 1024 * 1024;
const kMostFiles = 20;

export type ChoiceFault = 'kinds' | 'most' | 'too_large';

/** What is wrong with a choice of files before they are sent; null: nothing. */
export function fault_of(files: ImportFile[]): ChoiceFault | null {
  if (files.length > kMostFiles) return 'most';
  if (!files.every((file) => /\.(toml|jsonl|csv)$/i.test(file.name))) return 'kinds';
  // What counts is the request: quotes and line ends take two bytes each there.
  if (new TextEncoder().encode(JSON.stringify({ files, preview: false })).length > kMostBytes) return 'too_large';
  return null;
}

export function import_files(files: ImportFile[], preview: boolean): Promise<Answer<ImportReport>> {
  return answer_of<ImportReport>(api.POST('/api/import', { body: { files, preview } }));
}
