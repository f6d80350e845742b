// What the screen shows, in one place, and what can be done to it. The rules are in src/lib; this
// joins them to Svelte and to the browser's events. One object for the whole app: `app`.

import { answer_of, api, type Answer, type EntryResults, type RoundAnswer, type Session } from './lib/api';
import { make_entry, type Entry, type Subject } from './lib/entries';
import { wall } from './lib/dates';
import { as_asked, take_first_answers } from './lib/first_answers';
import { keep, kNothingYet, read_kept, type Loaded } from './lib/kept';
import { all_waiting, drop_ticks, put_entries, undo_entries, undo_tick, type Writing } from './lib/outbox';
import { merged, task_key, ticks_that_hold, type Round } from './lib/round';
import { place_of, type Place } from './lib/routes';
import { send_waiting, type SendState } from './lib/sender';
import { ask_session, keep_session, kept_session } from './lib/session';
import { keep_shell, type ShellState } from './lib/shell_worker';
import { open_store, type Store, type Tick, type Waiting } from './lib/store';
import { placed_words, round_words, written_words } from './lib/strings/round';
import { join_tabs, type Tabs } from './lib/tabs';
import type { Draft, Task } from './lib/tasks';
import { make_uuid_v7 } from './lib/uuid7';

export interface Snack {
  text: string;
  undo: (() => void) | null;
}

// A snack stays long enough to pull a glove off. Common practice, no source.
const kSnack_ms = 10_000;
const kSendEvery_ms = 30_000;
// Several entries in a row make one new round.
const kChangeWait_ms = 2_000;

/** What the server said of the round. */
interface RoundTold {
  answer: Answer<RoundAnswer>;
  order: number; // in which it was asked for
  asked_at: number; // device clock, ms
  change: number; // of the book that it is of; NaN: not told
}

type TickedWriting = Writing & { tick: NonNullable<Writing['tick']> };

class App {
  store: Store | null = $state.raw(null);
  no_store = $state(false); // this browser keeps nothing: nothing can be written
  place: Place = $state.raw(place_of(location.hash));
  session: Session | null = $state.raw(null);
  session_asked = $state(false); // whether the server or the store has answered
  reachable = $state(true);
  waiting: Waiting[] = $state.raw([]);
  ticks: Tick[] = $state.raw([]);
  sending = $state(false);
  send_state: SendState = $state('all_sent');
  round: Loaded<Round> = $state.raw(kNothingYet);
  shell: ShellState = $state('none');
  shell_asked = $state(false);
  clock_off_min = $state(0); // this device's clock less the server's, in minutes
  snack: Snack | null = $state.raw(null);
  change = $state(0); // rises when the book changes; pages watch it to ask anew

  get zone(): string {
    return this.session?.zone ?? '';
  }
  /** The room's date now; a kept round may be of an earlier day. */
  get today(): string {
    const fresh = this.round.trouble === null ? this.round.value?.date : undefined;
    return fresh ?? this.told_today ?? wall(new Date(), this.zone).date;
  }
  /** Whether entries wait that the book has not refused. */
  get to_send(): boolean {
    return this.waiting.some((one) => one.refused === null);
  }
  get refused(): Waiting[] {
    return this.waiting.filter((one) => one.refused !== null);
  }

  private told_today: string | null = $state(null); // by the server, when it was asked last
  private tabs: Tabs = { tell: () => {} };
  private rounds_asked = 0;
  private shown_round = { order: 0, change: NaN };
  private events: EventSource | null = null;
  private change_timer = 0;
  private snack_timer = 0;
  private readonly holder = make_uuid_v7(Date.now());

  async start(): Promise<void> {
    addEventListener('hashchange', () => (this.place = place_of(location.hash)));
    const first = take_first_answers();
    const asked = ask_session(first['/api/session']);
    void asked.then((answer) => answer.ok && answer.value.signed_in && this.hear_session(answer.value));
    try {
      this.store = await open_store();
    } catch {
      this.no_store = true;
      return;
    }
    const [session, kept] = await Promise.all([
      kept_session(this.store),
      read_kept<Round>(this.store, 'round'),
      this.read_store(),
    ]);
    if (session && !this.session) this.take_session(session);
    if (kept) this.round = { ...kept, trouble: null, loading: true };
    this.tabs = join_tabs((what) => void (what === 'outbox' ? this.read_store() : this.refresh()));
    addEventListener('online', () => void this.refresh());
    addEventListener('offline', () => (this.reachable = false));
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.refresh();
    });
    setInterval(() => void this.on_tick(), kSendEvery_ms);
    await this.compare(asked, first['/api/round']);
    // Last: fetching all files for later takes time from what is to be shown now.
    await keep_shell((state) => {
      this.shell = state;
      this.shell_asked = true;
    });
  }

  /** Asks who is signed in, sends what waits, then asks for the round. */
  async refresh(): Promise<void> {
    await this.read_store();
    await this.compare(ask_session());
  }

  /** `asked`: who is signed in; `asked_round`: the round, where it was asked for before. */
  private async compare(asked: Promise<Answer<Session>>, asked_round?: Promise<Response>): Promise<void> {
    if (!this.store) return;
    // With nothing to send first, the round is asked for at once and waits for the session's word.
    const early = this.to_send ? null : this.fetch_round(asked_round);
    const session = await asked;
    this.reachable = session.ok || session.trouble.kind !== 'not_reachable';
    if (session.ok) {
      this.hear_session(session.value);
      void keep_session(this.store, session.value);
    } else {
      this.told_today = null;
    }
    this.session_asked = true;
    if (!session.ok && session.trouble.kind === 'not_reachable') {
      this.send_state = 'not_reachable';
      this.round = { ...this.round, trouble: session.trouble, loading: false };
      return;
    }
    if (!this.session?.signed_in) return;
    this.listen();
    if (early) await this.take_round(await early);
    await this.send();
    if (!early) await this.take_round(await this.fetch_round());
    ++this.change;
  }

  /** Writes entries on this phone, then sends. False: this phone could not keep them. */
  async write(task: Task, drafts: Draft[], at: Date, where: string): Promise<boolean> {
    const writing = this.writing(task, drafts, at, where);
    return this.keep_and_send([writing], round_words.snack_done(placed_words(task, writing.tick.label, where)), () => this.undo([writing.tick.key]));
  }

  /** Several tasks at once, each with its usual entries, taken back by one Undo. */
  async write_all(tasks: { task: Task; drafts: Draft[] }[], title: string): Promise<boolean> {
    const now = new Date();
    const writings = tasks.map(({ task, drafts }) => this.writing(task, drafts, now, title));
    const keys = writings.map((one) => one.tick.key);
    return this.keep_and_send(writings, round_words.snack_all(tasks.length, title), () => this.undo(keys));
  }

  /** Entries that settle no task of the round, such as a move jotted on an animal's page. */
  async jot(drafts: Draft[], at: Date, label: string): Promise<boolean> {
    const now = new Date();
    const entries = drafts.map((draft) => make_entry(draft.kind, draft.subject, draft.fields, at, now));
    const written = entries.map((entry) => ({ entry, label }));
    return this.keep_and_send([{ written, tick: null }], round_words.snack_done(label), async () => {
      if (!this.store) return;
      await undo_entries(this.store, entries, this.session?.name ?? '', round_words.snack_undone(label), new Date());
      await this.stored();
      this.say(round_words.snack_undone(label));
    });
  }

  /** Strikes an entry of the book. A strike is not taken back: what was right is written anew. */
  async strike(id: string, subject: Subject, note: string, label: string): Promise<boolean> {
    const now = new Date();
    const entry = make_entry('struck', subject, { strikes: id, note }, now, now);
    return this.keep_and_send([{ written: [{ entry, label }], tick: null }], round_words.snack_done(label), null);
  }

  async undo(keys: string[]): Promise<void> {
    if (!this.store) return;
    const ticks = this.ticks.filter((tick) => keys.includes(tick.key));
    for (const tick of ticks) {
      await undo_tick(this.store, tick.key, this.session?.name ?? '', round_words.snack_undone(tick.label), new Date());
    }
    await this.stored();
    if (ticks[0]) this.say(round_words.snack_undone(ticks.length === 1 ? ticks[0].label : String(ticks.length)));
  }

  /** After signing out, or after this phone was cleared: nothing of the room is shown any more. */
  async signed_out(): Promise<void> {
    this.events?.close();
    this.round = kNothingYet;
    this.session = null;
    this.session_asked = false;
    this.tabs.tell('session');
    await this.read_store();
    await this.refresh();
  }

  /** Sends what waits, and shows how that went. */
  async send(): Promise<void> {
    if (!this.store || this.sending) return;
    this.sending = this.to_send;
    try {
      const before = this.waiting.length;
      const state = await send_waiting({
        store: this.store,
        post: (entries) => this.post(entries),
        now: () => new Date(),
        locks: navigator.locks as LockManager | undefined,
        holder: this.holder,
        on_progress: () => this.tabs.tell('outbox'),
      });
      if (state !== 'another_tab') this.send_state = state;
      if (state === 'not_reachable') this.reachable = false;
      if (state === 'sign_in' && this.session) this.session = { ...this.session, signed_in: false, role: null };
      await this.read_store();
      if (this.waiting.length !== before) this.tabs.tell('outbox');
    } finally {
      this.sending = false;
    }
    // What was saved while the last answer was on its way.
    if (this.send_state === 'all_sent' && this.to_send) await this.send();
  }

  say(text: string, undo: (() => void) | null = null): void {
    clearTimeout(this.snack_timer);
    this.snack = { text, undo };
    this.snack_timer = window.setTimeout(() => (this.snack = null), kSnack_ms);
  }

  /** After something was changed in the store by a page: shows it, tells the other tabs, sends. */
  async stored(): Promise<void> {
    await this.read_store();
    this.tabs.tell('outbox');
    void this.send();
  }

  private writing(task: Task, drafts: Draft[], at: Date, where: string): TickedWriting {
    const now = new Date();
    const entries = drafts.map((draft) => make_entry(draft.kind, draft.subject, draft.fields, at, now));
    const written = entries.map((entry) => ({ entry, label: placed_words(task, written_words(task, [entry]), where) }));
    return { written, tick: { key: task_key(task), date: this.today, label: written_words(task, entries) } };
  }

  private async keep_and_send(writings: Writing[], words: string, undo: (() => Promise<void>) | null): Promise<boolean> {
    if (!this.store) return false;
    try {
      await put_entries(this.store, writings, this.session?.name ?? '');
    } catch {
      return false;
    }
    // Asked at the first save, when the browser sees that this is used in earnest.
    void navigator.storage?.persist?.();
    await this.stored();
    this.say(words, undo ? () => void undo() : null);
    return true;
  }

  private async read_store(): Promise<void> {
    if (!this.store) return;
    [this.waiting, this.ticks] = await Promise.all([all_waiting(this.store), this.store.getAll('ticks')]);
  }

  private async post(entries: Entry[]): Promise<Answer<EntryResults>> {
    const answer = await answer_of(
      api.POST('/api/entries', { body: { entries: entries as never } }).then((outcome) => {
        this.see_clock(outcome.response);
        return outcome;
      }),
    );
    if (answer.ok) this.reachable = true;
    return answer;
  }

  /** The server's Date is to the second; the way back is short beside a minute. */
  private see_clock(response: Response): void {
    const theirs = Date.parse(response.headers.get('Date') ?? '');
    if (!Number.isNaN(theirs)) this.clock_off_min = Math.round((Date.now() - theirs) / 60_000);
  }

  private take_session(session: Session): void {
    this.session = session;
    this.session_asked = true;
  }

  private hear_session(session: Session): void {
    this.take_session(session);
    this.told_today = session.today || null;
  }

  private async fetch_round(asked?: Promise<Response>): Promise<RoundTold> {
    const order = ++this.rounds_asked;
    const asked_at = asked ? performance.timeOrigin : Date.now();
    let change = NaN;
    const call = api.GET('/api/round', as_asked(asked)).then((outcome) => {
      change = Number.parseInt(outcome.response.headers.get('Book-Change') ?? '', 10);
      return outcome;
    });
    return { answer: await answer_of(call), order, asked_at, change };
  }

  private async take_round({ answer, order, asked_at, change }: RoundTold): Promise<void> {
    if (!this.store || order < this.shown_round.order) return;
    if (!answer.ok) {
      if (answer.trouble.kind === 'not_reachable') this.reachable = false;
      this.round = { ...this.round, trouble: answer.trouble, loading: false };
      return;
    }
    const fresh = answer.value as Round;
    this.shown_round = { order, change };
    const holding = ticks_that_hold(this.ticks, fresh, asked_at);
    const gone = this.ticks.filter((tick) => !holding.includes(tick));
    this.ticks = holding;
    const value = merged(this.round.value, fresh, new Set(holding.map((tick) => tick.key)));
    const now = new Date();
    this.round = { value, as_of: now.toISOString(), trouble: null, loading: false };
    await drop_ticks(this.store, gone);
    await keep(this.store, 'round', value, now);
  }

  private async on_tick(): Promise<void> {
    if (document.visibilityState !== 'visible') return;
    const new_day = this.round.value?.date !== wall(new Date(), this.zone).date;
    if (!this.reachable || this.round.trouble !== null || new_day) await this.refresh();
    else if (this.to_send) await this.send();
  }

  /** Hears of changes by others, such as a second keeper in the room. */
  private listen(): void {
    if (!('EventSource' in window) || (this.events && this.events.readyState !== EventSource.CLOSED)) return;
    this.events = new EventSource('/api/events');
    this.events.addEventListener('change', (event: MessageEvent<string>) => {
      // The stream begins with the change that the book is at: one that the round knows is none.
      if ((JSON.parse(event.data) as { change: number }).change <= this.shown_round.change) return;
      clearTimeout(this.change_timer);
      this.change_timer = window.setTimeout(() => void this.refresh(), kChangeWait_ms);
    });
  }
}

export const app = new App();
