import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editDistance, renderDiagnostics, suggest } from './diagnostics.ts';
import { loadLibrary } from './library.ts';
import { positionOf } from './source.ts';
import { DICTIONARY, libraryWith, probe } from './testing.ts';
import { PLACE_FIXTURE } from './testing-places.ts';

const fixture = (name: string): string => readFileSync(new URL(`./fixtures/${name}`, import.meta.url), 'utf8');

describe('a file with many faults', () => {
  it('has all of them said at once, each with its place, the line, a caret and help', () => {
    const { diagnostics } = libraryWith([{ file: 'rules/constraints/x/ten-faults.yaml', text: fixture('ten-faults.yaml') }]);
    expect(renderDiagnostics(diagnostics)).toBe(fixture('ten-faults.txt').trimEnd());
    expect(new Set(diagnostics.map(({ code }) => code)).size).toBeGreaterThanOrEqual(8);
    expect(diagnostics.length).toBeGreaterThanOrEqual(10);
  });

  it('shows fifty faults of a file and counts the rest', () => {
    const keys = Array.from({ length: 60 }, (_, i) => `key${i}: x`).join('\n');
    const { diagnostics } = libraryWith([{ file: 'rules/constraints/x/many.yaml', text: keys }]);
    expect(renderDiagnostics(diagnostics)).toMatch(/and \d+ more$/);
  });
});

describe('each fault has a code of its own', () => {
  it.each([
    ['h.length >= ', 'RULE_SYNTAX'],
    ['h.length >= 5 mm >= 3 mm', 'RULE_SYNTAX'],
    ['(h.length >= 5 mm', 'RULE_SYNTAX'],
    ['h.length >= 5 mm; true', 'RULE_SYNTAX'],
    ['h.lenth >= 5 mm', 'RULE_UNKNOWN_NAME'],
    ['hose.length >= 5 mm', 'RULE_UNKNOWN_NAME'],
    ['rout(h) >= 5 mm', 'RULE_UNKNOWN_NAME'],
    ['count(p in hoses) > 2', 'RULE_UNKNOWN_NAME'],
    ['h.length >= 5 kg', 'RULE_DIMENSION'],
    ['h.length + h.mass >= 5 mm', 'RULE_DIMENSION'],
    ['h.length >= 5', 'RULE_DIMENSION'],
    ['sin(h.length) >= 0.5', 'RULE_DIMENSION'],
    ['sqrt(h.length) >= 2', 'RULE_DIMENSION'],
    ['h.length', 'RULE_TYPE'],
    ['h.end >= 5 mm', 'RULE_TYPE'],
    ['gap(h) >= 5 mm', 'RULE_TYPE'],
    ['load(h.corner) >= 5 kg', 'RULE_TYPE'],
    ['route(h, h) >= 5 mm', 'RULE_TYPE'],
    ['h.length ^ 0.5 >= 5 mm', 'RULE_TYPE'],
    ['h.length == 5 mm', 'RULE_REAL_EQUALITY'],
    ["h.end == 'banyo'", 'RULE_BAD_VALUE'],
    ['h.length >= -5 mm', 'RULE_ALWAYS_TRUE'],
    ['h.length < 0 mm', 'RULE_NEVER_TRUE'],
    ['30 mm <= 25 mm', 'RULE_NEVER_TRUE'],
    ['abs(h.stretch) < 0 mm', 'RULE_NEVER_TRUE'],
    [`${'('.repeat(60)}h.length${')'.repeat(60)} >= 5 mm`, 'RULE_TOO_LARGE'],
    [`h.length >= ${'1 mm + '.repeat(400)}1 mm`, 'RULE_TOO_LARGE'],
    ['sum(sum(sum(r.length for r in hose) for q in hose) for p in hose) > 1 mm', 'RULE_TOO_LARGE'],
  ])('%s: %s', (require, code) => {
    expect(probe(require).faults.map((fault) => fault.code)).toContain(code);
  });

  it.each([
    ['let:\n  a: "h.length"\n', 'RULE_UNUSED'],
    ['let:\n  h: "h.length"\n', 'RULE_DUPLICATE_ID'],
    ['note:\n', 'RULE_NULL'],
    ['note: &a hello\n', 'RULE_ALIAS'],
    ['note: *a\n', 'RULE_ALIAS'],
    ['nota: hello\n', 'RULE_UNKNOWN_KEY'],
    ['note: a\nnote: b\n', 'RULE_DUPLICATE_KEY'],
    ['cautions: [breaks]\n', 'RULE_UNKNOWN_CAUTION'],
  ])('%j: %s', (more, code) => {
    expect(probe('h.length >= 5 mm', more).faults.map((fault) => fault.code)).toContain(code);
  });

  it('a let that doubles again and again is stopped before it grows without bound', () => {
    const lets = Array.from({ length: 20 }, (_, i) => `  a${i + 1}: "a${i} + a${i}"`).join('\n');
    const { faults } = probe('a20 >= 5 mm', `let:\n  a0: "h.length"\n${lets}\n`);
    expect(faults.map(({ code }) => code)).toContain('RULE_TOO_LARGE');
  });

  it('files that stand in a ring, or say the same id twice, are faults', () => {
    const part = (id: string, is: string): { file: string; text: string } => ({
      file: `rules/kinds/${id}.yaml`,
      text: `id: ${id}\ntitle: X\nis: ${is}\nfits: vehicle\nframe: chassis\n`,
    });
    expect(libraryWith([part('a', 'b'), part('b', 'a')]).diagnostics.map(({ code }) => code)).toEqual(['RULE_CYCLE', 'RULE_CYCLE']);
    const work = (id: string, more: string): { file: string; text: string } => ({
      file: `rules/works/${id}.yaml`,
      text: `id: ${id}\ntitle: X\nhours: { low: 1 h, likely: 1 h, high: 1 h }\nbasis: [{ kind: common-practice }]\n${more}`,
    });
    expect(libraryWith([work('one', 'then: [two]\n'), work('two', 'then: [one]\n')]).diagnostics.map(({ code }) => code)).toContain(
      'RULE_CYCLE',
    );
    expect(libraryWith([work('one', 'after: [two]\n'), work('two', 'after: [one]\n')]).diagnostics.map(({ code }) => code)).toContain(
      'RULE_CYCLE',
    );
    const twice = [{ file: 'rules/kinds/x/rack.yaml', text: 'id: rack\ntitle: Rack\nfits: vehicle\nframe: body\n' }];
    expect(libraryWith(twice).diagnostics.map(({ code }) => code)).toContain('RULE_DUPLICATE_ID');
  });

  it('an effect on a computed quantity is refused', () => {
    const text =
      'id: push\ntitle: X\ntakes: { by: { unit: kg } }\nhours: { low: 1 h, likely: 1 h, high: 1 h }\neffects: [{ set: load(front), to: by }]\nbasis: [{ kind: common-practice }]\n';
    expect(libraryWith([{ file: 'rules/works/push.yaml', text }]).diagnostics.map(({ message }) => message)).toEqual([
      '`load` is computed',
    ]);
  });
});

describe('places', () => {
  it.each(['h.lenth >= 5 mm', 'h.length >= 5 kg', 'rout(h) >= 5 mm'])(
    'point at the words at fault, in a folded block too: %s',
    (require) => {
      const [fault] = probe(require).faults;
      expect(require).toContain(fault?.text);
      expect(fault?.text.length).toBeGreaterThan(0);
    },
  );

  it('count lines and columns from one', () => {
    expect(positionOf({ file: 'f', text: 'ab\ncd' }, 4)).toEqual({ line: 2, column: 2 });
  });
});

describe('any text at all', () => {
  it('loads or is a fault with a place inside the file, and never hangs or crashes', () => {
    const text = fc.oneof(
      fc.string({ maxLength: 200 }),
      fc.string({ unit: fc.constantFrom(...' \n:-{}[]"\'#>|&*!h.length(),+mm'), maxLength: 120 }),
    );
    fc.assert(
      fc.property(text, fc.constantFrom('constraints/x/a', 'kinds/a', 'works/a', 'quantities/a', 'classes/a'), (garbage, file) => {
        const { diagnostics } = loadLibrary([...DICTIONARY, { file: `rules/${file}.yaml`, text: garbage }], PLACE_FIXTURE);
        for (const { span } of diagnostics) {
          expect(span.start).toBeGreaterThanOrEqual(0);
          expect(span.end).toBeGreaterThan(span.start - 1);
          expect(span.start).toBeLessThanOrEqual(span.source.text.length);
        }
        expect(renderDiagnostics(diagnostics)).toEqual(expect.any(String));
      }),
      { numRuns: 300 },
    );
  });

  it('as an expression, the same', () => {
    fc.assert(
      fc.property(
        fc.string({
          unit: fc.constantFrom(
            'h',
            '.length',
            ' ',
            '(',
            ')',
            '+',
            '-',
            'mm',
            '5',
            ',',
            'min',
            'sum',
            ' for ',
            ' in ',
            'hose',
            ' and ',
            ' not ',
            '>=',
            '±',
            "'",
          ),
          maxLength: 40,
        }),
        (expression) => {
          expect(Array.isArray(probe(expression.replaceAll('\n', ' ')).faults)).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('suggestions', () => {
  it('see letters swapped, missing and too many', () => {
    expect(editDistance('lenght', 'length')).toBe(1);
    expect(suggest('hoze', ['hose', 'rack'])).toBe('did you mean `hose`?');
    expect(suggest('zebra', ['hose', 'rack'])).toBe('known: `hose`, `rack`');
  });
});
