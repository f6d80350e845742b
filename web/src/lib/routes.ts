// The app's places. A page is named in the part of the address after #, so that the server hands out
// one file and the back button works. The round comes with the app (main.ts), other pages are fetched
// when they are opened first; the worker has them all on the phone.

import type { Component } from 'svelte';
import type { Role } from './session';

export type PageName =
  | 'round' | 'animals' | 'animal' | 'room' | 'enclosure' | 'notebook' | 'more' | 'trace' | 'rota'
  | 'setup' | 'people' | 'about' | 'waiting';

/** Where one is: a page and what it is about, such as {page: 'animal', id: 'agate'}. */
export interface Place {
  page: PageName;
  id: string; // empty: the page is about nothing in particular
  query: URLSearchParams;
}

/** What a page is given; it may ask for nothing. It is made anew when its id changes. */
export interface PageProps {
  place: Place;
}
export type Page = Component<PageProps> | Component<Record<string, never>>;

interface PageInfo {
  roles: readonly Role[]; // who may open it
  bar: PageName; // which entry of the bar is lit
  open: () => Promise<{ default: Page }>;
}

const kAll: readonly Role[] = ['owner', 'keeper', 'sitter'];
const kKeepers: readonly Role[] = ['owner', 'keeper'];
const kOwners: readonly Role[] = ['owner'];

export const kPages: Record<PageName, PageInfo> = {
  round: { roles: kAll, bar: 'round', open: () => import('../pages/Round.svelte') },
  animals: { roles: kKeepers, bar: 'animals', open: () => import('../pages/Animals.svelte') },
  animal: { roles: kKeepers, bar: 'animals', open: () => import('../pages/Animal.svelte') },
  room: { roles: kKeepers, bar: 'room', open: () => import('../pages/Room.svelte') },
  enclosure: { roles: kKeepers, bar: 'room', open: () => import('../pages/Enclosure.svelte') },
  notebook: { roles: kKeepers, bar: 'notebook', open: () => import('../pages/Notebook.svelte') },
  more: { roles: kAll, bar: 'more', open: () => import('../pages/More.svelte') },
  trace: { roles: kKeepers, bar: 'more', open: () => import('../pages/Trace.svelte') },
  rota: { roles: kKeepers, bar: 'more', open: () => import('../pages/Rota.svelte') },
  setup: { roles: kKeepers, bar: 'more', open: () => import('../pages/Setup.svelte') },
  people: { roles: kOwners, bar: 'more', open: () => import('../pages/People.svelte') },
  about: { roles: kAll, bar: 'more', open: () => import('../pages/About.svelte') },
  waiting: { roles: kAll, bar: 'more', open: () => import('../pages/Waiting.svelte') },
};

/** The entries of the bar, in order. */
export const kBar: readonly PageName[] = ['round', 'animals', 'room', 'notebook', 'more'];
/** What stands on the page "More"; a side bar shows them too. */
export const kMore: readonly PageName[] = ['trace', 'rota', 'setup', 'people', 'about'];

export function place_of(hash: string): Place {
  const [path = '', query = ''] = hash.replace(/^#?\/?/, '').split('?');
  const [name = '', id = ''] = path.split('/');
  const page = name in kPages ? (name as PageName) : 'round';
  return { page, id: decoded(id), query: new URLSearchParams(query) };
}

export function link_to(page: PageName, id = '', query: Record<string, string> = {}): string {
  const asked = new URLSearchParams(query).toString();
  return `#/${page}${id ? `/${encodeURIComponent(id)}` : ''}${asked ? `?${asked}` : ''}`;
}

export function may_open(page: PageName, role: Role | null): boolean {
  return role !== null && kPages[page].roles.includes(role);
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
