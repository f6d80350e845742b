import { describe, expect, it } from 'vitest';
import page from '../../../docs/notebook.md?raw';
import { entry_form, kEntryForms, nothing_typed, typed_draft } from './entry_forms';
import { kEntryKinds } from './entries';

const agate = { kind: 'animal', id: 'agate' };
const typed = nothing_typed('metric');

describe('the kinds of entry', () => {
  it('are those of docs/notebook.md, with what each must and may have', () => {
    const table = /<!-- kinds: begin -->([\s\S]*?)<!-- kinds: end -->/.exec(page)?.[1] ?? '';
    const rows = table.trim().split('\n').slice(2).map((row) => row.split('|').slice(1, -1).map((cell) => cell.trim()));
    const list = (words: readonly string[]) => words.join(', ');
    const about = (words: readonly string[]) => (words.length === 0 ? 'anything' : list(words));
    const ours = kEntryForms.map((one) => [
      `\`${one.kind}\``, about(one.about), list(one.must), list(one.may), one.item, list(one.target),
    ]);
    expect(ours).toEqual(rows);
    expect(kEntryForms.map((one) => one.kind)).toEqual([...kEntryKinds]);
  });
});

describe('a filled form', () => {
  const draft = (kind: string, fields: Partial<typeof typed>, subject = agate) =>
    typed_draft(entry_form(kind)!, subject, { ...typed, ...fields });

  it('becomes an entry with its units', () => {
    expect(draft('weighed', { mass: '71,5', note: ' after shed ' })).toEqual({
      draft: { kind: 'weighed', subject: agate, fields: { mass: '71.5g', note: 'after shed' } },
    });
    const enclosure = { kind: 'enclosure', id: 'rack-a-1' };
    expect(draft('reading', { temperature: '-2,5', humidity: '55', item: 'cool side' }, enclosure)).toEqual({
      draft: { kind: 'reading', subject: enclosure, fields: { temperature: '-2.5C', humidity: '55%', item: 'cool side', note: '' } },
    });
  });
  it('takes only the parts that its kind has', () => {
    expect(draft('in_shed', { mass: '71', item: 'x' })).toEqual({
      draft: { kind: 'in_shed', subject: agate, fields: { note: '' } },
    });
  });
  it('says which parts are missing or cannot be read', () => {
    expect(draft('weighed', {})).toEqual({ faults: { mass: true } });
    expect(draft('weighed', { mass: 'heavy' })).toEqual({ faults: { mass: true } });
    expect(draft('fed', { count: '1.5' })).toEqual({ faults: { count: true } });
    expect(draft('reading', { humidity: '140' }, { kind: 'enclosure', id: 'e' })).toEqual({ faults: { humidity: true, temperature: true } });
    expect(draft('reading', { item: 'warm side' }, { kind: 'enclosure', id: 'e' })).toEqual({ faults: { temperature: true } });
    expect(draft('note', { note: '  ' })).toEqual({ faults: { note: true } });
    expect(draft('moved', {}, { kind: 'animal', id: '' })).toEqual({ faults: { target: true, subject: true } });
  });
});
