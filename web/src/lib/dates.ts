// Days and times on the room's clock. The book speaks UTC; people read the zone of the room, which
// need not be that of the phone. An empty zone (before signing in) means the phone's own.
// All functions take the instant: none looks at the clock.

interface Wall {
  date: string; // 2026-11-25
  time: string; // 07:12
}

// Making a format is slow, and lists ask for many walls.
const wall_formats = new Map<string, Intl.DateTimeFormat>();

function wall_format(zone: string): Intl.DateTimeFormat {
  let format = wall_formats.get(zone);
  if (!format) {
    format = new Intl.DateTimeFormat('en-GB', {
      year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit',
      hourCycle: 'h23', ...(zone ? { timeZone: zone } : {}),
    });
    wall_formats.set(zone, format);
  }
  return format;
}

/** What the room's calendar and clock show at an instant. */
export function wall(instant: Date, zone: string): Wall {
  const parts: Record<string, string> = {};
  for (const { type, value } of wall_format(zone).formatToParts(instant)) parts[type] = value;
  return {
    date: `${parts['year']}-${parts['month']}-${parts['day']}`,
    time: `${parts['hour']}:${parts['minute']}`,
  };
}

/**
 * The instant at which the room's clock shows a time. Where it shows it twice (the autumn change)
 * the first; where never (spring) the same time after the jump, an hour later.
 */
export function instant_of_wall(date: string, time: string, zone: string): Date | null {
  if (!/^\d{4}-\d\d-\d\d$/.test(date) || !/^\d\d:\d\d$/.test(time)) return null;
  const as_utc = Date.parse(`${date}T${time}:00Z`);
  if (Number.isNaN(as_utc)) return null;
  const kHour = 3_600_000;
  const offset_at = (instant_ms: number): number => {
    const shown = wall(new Date(instant_ms), zone);
    return Date.parse(`${shown.date}T${shown.time}:00Z`) - Math.floor(instant_ms / 60_000) * 60_000;
  };
  // The offsets before and after any change that is near; the greater one gives the earlier instant.
  const offsets = [offset_at(as_utc - 24 * kHour), offset_at(as_utc + 24 * kHour)].sort((a, b) => b - a);
  for (const offset of offsets) {
    if (offset_at(as_utc - offset) === offset) return new Date(as_utc - offset);
  }
  return new Date(as_utc - Math.min(...offsets));
}

/** "Wednesday 25 November 2026" of a date such as 2026-11-25. */
export function date_words(date: string): string {
  const named = names_of(date);
  return named ? `${named.weekday} ${named.day} ${named.month} ${named.year}` : date;
}

/** "Wed 25 Nov" of a date. */
export function short_date_words(date: string): string {
  const named = names_of(date);
  return named ? `${named.weekday.slice(0, 3)} ${named.day} ${named.month.slice(0, 3)}` : date;
}

/** "07:12", or with the day where it was not today: "Tue 24 Nov 07:12". */
export function moment_words(instant: Date, now: Date, zone: string): string {
  const then = wall(instant, zone);
  return then.date === wall(now, zone).date ? then.time : `${short_date_words(then.date)} ${then.time}`;
}

// The app speaks English only, and the browser's first format of a date takes as long as the rest of the
// top bar.
const kWeekdays = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const kMonths = [
  'January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December',
];

function names_of(date: string): { weekday: string; day: number; month: string; year: number } | null {
  const instant = new Date(`${date}T00:00:00Z`);
  if (Number.isNaN(instant.getTime())) return null;
  return {
    weekday: kWeekdays[instant.getUTCDay()]!,
    day: instant.getUTCDate(),
    month: kMonths[instant.getUTCMonth()]!,
    year: instant.getUTCFullYear(),
  };
}
