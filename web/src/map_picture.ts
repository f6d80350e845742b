// Draws a map of an enclosure on a canvas: steps in colours, the lines between them with their numbers,
// the edges of what is wanted in dashes, and numbered marks. Colours never stand alone.

import { line_at, step_at, type Field, type Mark } from './lib/heat_map';
import { is_dark, token } from './look_watch';

export type Palette = 'heat' | 'uv';

// From little to much; chosen for this app, so that light and dark keep their order also in grey.
const kPalettes: Record<Palette, Record<'light' | 'dark', string[]>> = {
  heat: {
    light: ['#d3e6ec', '#eef0dc', '#f7dfae', '#efb377', '#d9814e', '#b35330', '#84280a'],
    dark: ['#10242c', '#20332f', '#433c20', '#6e4a1e', '#a0602a', '#d08446', '#ffbd91'],
  },
  uv: {
    light: ['#f4f0f8', '#d9cdec', '#b7a2da', '#8f74c2', '#69489f', '#472a75'],
    dark: ['#17131f', '#2c2342', '#473768', '#6d5798', '#9d86c8', '#d4c4f2'],
  },
};

/** The colours of so many steps. */
export function step_colours(palette: Palette, count: number): string[] {
  const stops = kPalettes[palette][is_dark() ? 'dark' : 'light'];
  return Array.from({ length: count }, (_, i) => {
    const at = count === 1 ? 0 : (i / (count - 1)) * (stops.length - 1);
    const from = stops[Math.floor(at)]!;
    const to = stops[Math.ceil(at)]!;
    return `#${[1, 3, 5].map((k) => mixed(from, to, k, at - Math.floor(at))).join('')}`;
  });
}

function mixed(from: string, to: string, at: number, share: number): string {
  const part = (colour: string) => parseInt(colour.slice(at, at + 2), 16);
  return Math.round(part(from) * (1 - share) + part(to) * share).toString(16).padStart(2, '0');
}

export interface Picture {
  field: Field;
  limits: number[];
  palette: Palette;
  wanted: { low: number; high: number }[];
  marks: Mark[];
  number: (value: number) => string;
}

const kRaster_px = 3; // finer than the computed rectangles on any screen
const kDisc_px = 11; // of a mark's number

export function draw_map(canvas: HTMLCanvasElement, picture: Picture): void {
  const width = canvas.clientWidth;
  const height = canvas.clientHeight;
  const pen = canvas.getContext('2d');
  if (!pen || width === 0 || height === 0) return;
  canvas.width = Math.round(width * devicePixelRatio);
  canvas.height = Math.round(height * devicePixelRatio);
  const { field, limits } = picture;
  paint_steps(pen, canvas, field, limits, step_colours(picture.palette, limits.length - 1));
  pen.scale(devicePixelRatio, devicePixelRatio);
  const halo = token('card');
  const ink = token('ink');
  const taken: [number, number][] = [];
  for (const limit of limits.slice(1, -1)) draw_line(pen, width, height, field, limit, 1.2, [], ink, halo);
  for (const { low, high } of picture.wanted) {
    for (const limit of [low, high]) draw_line(pen, width, height, field, limit, 3, [9, 6], ink, halo);
  }
  for (const mark of picture.marks) draw_bar(pen, width, height, field, mark, ink, halo);
  picture.marks.forEach((mark, i) => draw_disc(pen, width, height, field, mark, String(i + 1), taken, ink, halo));
  for (const limit of limits.slice(1, -1)) label_line(pen, width, height, field, limit, picture.number(limit), taken, ink, halo);
}

/** In whole pixels of the screen, so that no seams show. */
function paint_steps(pen: CanvasRenderingContext2D, canvas: HTMLCanvasElement, field: Field, limits: number[], colours: string[]): void {
  pen.fillStyle = token('sunk');
  pen.fillRect(0, 0, canvas.width, canvas.height);
  const size = Math.max(1, Math.round(kRaster_px * devicePixelRatio));
  for (let y = 0; y < canvas.height; y += size) {
    for (let x = 0; x < canvas.width; x += size) {
      const value = field.at(((x + size / 2) / canvas.width) * field.width_m, (1 - (y + size / 2) / canvas.height) * field.height_m);
      if (value === null) continue;
      pen.fillStyle = colours[step_at(limits, value)]!;
      pen.fillRect(x, y, size, size);
    }
  }
}

function lines_of(width: number, height: number, field: Field, level: number) {
  return line_at(field, level, Math.ceil(width / 6), Math.ceil(height / 6)).map(
    ([x1, y1, x2, y2]) => [x1 * width, (1 - y1) * height, x2 * width, (1 - y2) * height] as const,
  );
}

function draw_line(
  pen: CanvasRenderingContext2D, width: number, height: number, field: Field, level: number, thick: number, dash: number[], ink: string, halo: string,
): void {
  const path = new Path2D();
  // Joined end to end, so that the dashes run through.
  let end = '';
  for (const [x1, y1, x2, y2] of joined(lines_of(width, height, field, level))) {
    if (end !== `${x1.toFixed(2)} ${y1.toFixed(2)}`) path.moveTo(x1, y1);
    path.lineTo(x2, y2);
    end = `${x2.toFixed(2)} ${y2.toFixed(2)}`;
  }
  pen.lineJoin = 'round';
  if (dash.length > 0) {
    pen.setLineDash([]);
    pen.strokeStyle = halo;
    pen.lineWidth = thick + 3;
    pen.stroke(path);
  }
  pen.setLineDash(dash);
  pen.strokeStyle = ink;
  pen.lineWidth = thick;
  pen.stroke(path);
  pen.setLineDash([]);
}

type Piece = readonly [number, number, number, number];

/** The pieces in an order in which each begins where the one before ended, as far as they do. */
function joined(pieces: Piece[]): Piece[] {
  const name = (x: number, y: number) => `${x.toFixed(2)} ${y.toFixed(2)}`;
  const ends = new Map<string, Set<Piece>>();
  for (const piece of pieces) {
    for (const end of [name(piece[0], piece[1]), name(piece[2], piece[3])]) ends.set(end, (ends.get(end) ?? new Set()).add(piece));
  }
  const left = new Set(pieces);
  const path: Piece[] = [];
  // A line that runs from edge to edge is begun at its end, a closed one anywhere.
  const begins = [...pieces].sort((a, b) => loose(b, ends, name) - loose(a, ends, name));
  for (const begin of begins) {
    let piece: Piece | undefined = left.has(begin) ? begin : undefined;
    let at = (ends.get(name(begin[0], begin[1]))?.size ?? 0) === 1 ? name(begin[0], begin[1]) : name(begin[2], begin[3]);
    while (piece) {
      left.delete(piece);
      const turned: Piece = name(piece[0], piece[1]) === at ? piece : [piece[2], piece[3], piece[0], piece[1]];
      path.push(turned);
      at = name(turned[2], turned[3]);
      piece = [...(ends.get(at) ?? [])].find((one) => left.has(one));
    }
  }
  return path;
}

function loose(piece: Piece, ends: Map<string, Set<Piece>>, name: (x: number, y: number) => string): number {
  return Number(ends.get(name(piece[0], piece[1]))?.size === 1 || ends.get(name(piece[2], piece[3]))?.size === 1);
}

function label_line(
  pen: CanvasRenderingContext2D, width: number, height: number, field: Field, level: number, text: string, taken: [number, number][], ink: string, halo: string,
): void {
  const inside = lines_of(width, height, field, level).filter(([x, y]) => x > 20 && x < width - 20 && y > 14 && y < height - 14);
  const free = inside.filter(([x, y]) => taken.every(([a, b]) => Math.abs(a - x) > 40 || Math.abs(b - y) > 22));
  // The place furthest down the list's middle: neither end of the line.
  const place = free[Math.floor(free.length / 2)];
  if (!place) return;
  const [x, y] = place;
  taken.push([x, y]);
  chip(pen, x, y, text, ink, halo);
}

function chip(pen: CanvasRenderingContext2D, x: number, y: number, text: string, ink: string, halo: string): void {
  pen.font = 'bold 13px system-ui, sans-serif';
  pen.textAlign = 'center';
  pen.textBaseline = 'middle';
  const half = pen.measureText(text).width / 2 + 4;
  pen.fillStyle = halo;
  pen.beginPath();
  pen.roundRect(x - half, y - 9, 2 * half, 18, 5);
  pen.fill();
  pen.fillStyle = ink;
  pen.fillText(text, x, y + 1);
}

function mark_place(width: number, height: number, field: Field, mark: Mark): { left: number; right: number; y: number } {
  const inside = (at: number, size: number) => Math.min(size - kDisc_px - 1, Math.max(kDisc_px + 1, at));
  return {
    left: inside((mark.x_m / field.width_m) * width, width),
    right: inside(((mark.x_m + mark.width_m) / field.width_m) * width, width),
    y: inside((1 - (mark.y_m + mark.height_m / 2) / field.height_m) * height, height),
  };
}

/** A long thing, such as a tube. */
function draw_bar(pen: CanvasRenderingContext2D, width: number, height: number, field: Field, mark: Mark, ink: string, halo: string): void {
  if (mark.width_m <= 0) return;
  const { left, right, y } = mark_place(width, height, field, mark);
  pen.fillStyle = halo;
  pen.fillRect(left - 1, y - 5, right - left + 2, 10);
  pen.fillStyle = ink;
  pen.fillRect(left, y - 3, right - left, 6);
}

/** The number of a thing; beside others where they hang on one spot. */
function draw_disc(
  pen: CanvasRenderingContext2D, width: number, height: number, field: Field, mark: Mark, text: string, taken: [number, number][], ink: string, halo: string,
): void {
  const { left, right, y } = mark_place(width, height, field, mark);
  let x = (left + right) / 2;
  while (taken.some(([a, b]) => Math.hypot(a - x, b - y) < 2 * kDisc_px) && x < width - 3 * kDisc_px) x += 2 * kDisc_px + 2;
  taken.push([x, y]);
  pen.beginPath();
  pen.arc(x, y, kDisc_px, 0, 2 * Math.PI);
  pen.fillStyle = ink;
  pen.fill();
  pen.strokeStyle = halo;
  pen.lineWidth = 2;
  pen.stroke();
  pen.font = 'bold 13px system-ui, sans-serif';
  pen.textAlign = 'center';
  pen.textBaseline = 'middle';
  pen.fillStyle = halo;
  pen.fillText(text, x, y + 1);
}
