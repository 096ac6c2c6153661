/** Tables in and out: what is theirs stays as it was, what could run does not, and what would cost memory is refused before it does. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { harmless, harmlessInText, isHarmful, unquoted, unquotedInText } from './harmless.ts';
import { openSheet } from './open-sheet.ts';
import { MOST_COLUMNS, SheetRefused } from './table.ts';
import { fileOf, rowsOf, sheetXml, withAdded, workbookOf, workbookParts, zipOf } from './testing.ts';
import { columnLetters, columnNumber } from './xlsx-cells.ts';

const refusal = async (bytes: Uint8Array | string): Promise<SheetRefused> => {
  const found = await rowsOf(bytes).catch((error: unknown) => error);
  if (!(found instanceof SheetRefused)) throw new Error(`it was taken: ${JSON.stringify(found)}`);
  return found;
};

describe('cells that could run', () => {
  it.each(['=1+1', '+1+1', '-1+1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '=cmd|x', '\u200b=1', '＝1', '-10 mm', '+cmd'])(
    '%j is made a text',
    (cell) => {
      expect(isHarmful(cell)).toBe(true);
      expect(harmless(cell)).toBe(`'${cell}`);
      expect(unquoted(harmless(cell))).toBe(cell);
    },
  );

  it.each(['-10', '+25', '-1.5e3', ' -3 ', '.5', 'ET-10', 'a=b', '', "it's"])('%j stays as it is', (cell) => {
    expect(harmless(cell)).toBe(cell);
  });

  it.each([
    ['x;=40+2;y', "x;'=40+2;y"],
    ['a\n=1+1', "a\n'=1+1"],
    ['1|@SUM(A1)', "1|'@SUM(A1)"],
    ['tyres; -10', 'tyres; -10'],
    ['17x8.5, -10', '17x8.5, -10'],
  ])('%j comes back as %j, whatever separator it is opened with', (cell, back) => {
    expect(harmlessInText(cell)).toBe(back);
    expect(unquotedInText(back)).toBe(cell);
  });

  it('no line of a file that comes back has a formula in it, whatever it is parted at', async () => {
    const units = ['=', '+', '-', '@', ';', ',', '|', '\t', '"', '1', 'a', ' '] as const;
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.string({ unit: fc.constantFrom(...units), maxLength: 8 }), { minLength: 1, maxLength: 3 }),
        async (cells) => {
          const quoted = cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(',');
          const back = (await withAdded(`a,b,c\n${quoted}\n`, 3, () => undefined)).toString();
          for (const separator of [';', ',', '|', '\t'])
            for (const part of (back.split('\n')[1] ?? '').split(separator).map((one) => one.replace(/^[\s"]+/, '')))
              expect(/^[=+\-@]/.test(part) && !/^[-+]?[\d.]+(?:[\s",;|]|$)/.test(part), JSON.stringify([cells, back])).toBe(false);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('long runs of spaces, tabs and quotes cost no more than their length', () => {
    for (const run of [' ', '\t', '"', ' "', "' "])
      expect(unquotedInText(harmlessInText(`x;${run.repeat(500_000)}y`))).toHaveLength(run.length * 500_000 + 3);
  });

  it('nothing that comes back starts as a formula does, whatever was sent', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('=', '+', '-', '@', '\t', '\r', '1', 'a', ' ', '.', "'") }), (text) => {
        const back = harmless(text);
        expect(/^\s*[=+\-@\t\r]/.test(back) && !/^\s*[-+]?[\d.]+\s*$/.test(back)).toBe(false);
      }),
    );
  });
});

describe('CSV', () => {
  it('gives cells with the quotes and line ends inside them', async () => {
    expect(await rowsOf('a,"b ""c""\nd",e\r\n1,2\r\n')).toEqual([
      { n: 1, cells: ['a', 'b "c"\nd', 'e'] },
      { n: 2, cells: ['1', '2'] },
    ]);
  });

  it.each([
    ['semicolons', 'a;b;c\n1;2;3\n'],
    ['tabs', 'a\tb\tc\n1\t2\t3\n'],
    ['a byte order mark', '\uFEFFa,b,c\n1,2,3\n'],
    ['UTF-16', Buffer.from('\uFEFFa\tb\tc\r\n1\t2\t3\r\n', 'utf16le')],
  ])('reads %s', async (_, text) => {
    expect((await rowsOf(text)).map(({ cells }) => cells)).toEqual([
      ['a', 'b', 'c'],
      ['1', '2', '3'],
    ]);
  });

  it('gives every row back with its own bytes, ours behind, rows without anything left alone', async () => {
    const text = 'Title\r\nbuild,note\r\n"One",  spaced \r\n\r\nTwo,"a ""b"""\r\n';
    const back = (
      await withAdded(text, 2, (n) => (n === 2 ? ['verdict', 'margin'] : n > 2 && n !== 4 ? ['clear', -1.5] : undefined))
    ).toString();
    expect(back).toBe('Title\r\nbuild,note,verdict,margin\r\n"One",  spaced ,clear,-1.5\r\n\r\nTwo,"a ""b""",clear,-1.5\r\n');
  });

  it('puts ours in the same column in short rows', async () => {
    expect((await withAdded('a,b,c\n1\n', 3, () => ['x'])).toString()).toBe('a,b,c,x\n1,,,x\n');
  });

  it('gives what could run back as texts, and reads them as they were meant', async () => {
    const back = (await withAdded('a,b\n=1+1,-10\n@x,"+1,2"\n', 2, (n) => (n === 1 ? undefined : ['=evil()']))).toString();
    expect(back).toBe("a,b\n'=1+1,-10,'=evil()\n'@x,\"'+1,2\",'=evil()\n");
    expect((await rowsOf(back))[1]?.cells).toEqual(['=1+1', '-10', '=evil()']);
  });

  it.each([
    ['SHEET_NOT_TEXT', Buffer.from([0x61, 0xe9, 0x2c, 0x62])],
    ['SHEET_NOT_TEXT', 'a,b\n\0,1\n'],
    ['SHEET_NOT_TEXT', '%PDF-1.7'],
    ['CSV_MALFORMED', 'a,b\n"1,2\n'],
    ['SHEET_EMPTY', ''],
    ['SHEET_TOO_WIDE', `${'a,'.repeat(MOST_COLUMNS)}b\n`],
    ['CSV_MALFORMED', `a,b\n"${'x'.repeat(2 << 20)}",1\n`],
  ])('is refused as %s', async (code, bytes) => {
    expect((await refusal(bytes)).code).toBe(code);
  });

  it('of any cells comes back with the same cells', async () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r\n', ' ', ';', '1', 'é', '漢') });
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 5 }), async (rows) => {
        const quoted = rows.map((row) => row.map((text) => `"${text.replaceAll('"', '""')}"`).join(',')).join('\n');
        const back = (await withAdded(`h,i,j\n${quoted}\n`, 3, () => ['x'])).toString();
        expect((await rowsOf(back)).slice(1).map(({ cells }) => cells)).toEqual(rows.map((row) => [...row, 'x']));
      }),
      { numRuns: 40 },
    );
  });
});

describe('workbooks', () => {
  it('columns have letters', () => {
    for (const [letters, n] of [
      ['A', 1],
      ['Z', 26],
      ['AA', 27],
      ['XFD', 16384],
    ] as const) {
      expect(columnLetters(n)).toBe(letters);
      expect(columnNumber(`${letters}12`)).toBe(n);
    }
  });

  it('gives texts, numbers and the values of formulas', async () => {
    const bytes = await workbookOf([
      {
        name: 'Builds',
        rows: [
          ['build', 'mass [kg]'],
          ['=One', 12.1],
          [{ formula: 'A2&"!"', shown: 'One!' }, 0.1 + 0.2],
        ],
      },
    ]);
    expect((await rowsOf(bytes)).map(({ cells }) => cells)).toEqual([
      ['build', 'mass [kg]'],
      ['=One', '12.1'],
      ['One!', '0.3'],
    ]);
  });

  it('reads shared texts, rich ones too, truths, gaps and prefixed names', async () => {
    const bytes = await zipOf(
      workbookParts({
        'xl/_rels/workbook.xml.rels':
          '<Relationships xmlns="x"><Relationship Id="rId1" Type="y/worksheet" Target="/xl/worksheets/sheet1.xml"/><Relationship Id="rId2" Type="y/sharedStrings" Target="sharedStrings.xml"/></Relationships>',
        'xl/sharedStrings.xml':
          '<x:sst xmlns:x="z"><x:si><x:t>plain</x:t></x:si><x:si><x:r><x:t>ri</x:t></x:r><x:r><x:t>ch</x:t></x:r><x:rPh><x:t>reading</x:t></x:rPh></x:si></x:sst>',
        'xl/worksheets/sheet1.xml': sheetXml(
          '<row r="3"><c r="B3" t="s"><v>1</v></c><c t="b"><v>1</v></c><c r="F3" t="s"><v>0</v></c></row><row><c><v>2</v></c></row>',
        ),
      }),
    );
    expect(await rowsOf(bytes)).toEqual([
      { n: 3, cells: ['', 'rich', 'yes', '', '', 'plain'] },
      { n: 4, cells: ['2'] },
    ]);
  });

  it('comes back with its values and formats, ours behind, formulas as the values they had, and nothing that runs', async () => {
    const bytes = await zipOf(
      workbookParts({
        'xl/worksheets/sheet1.xml': `<worksheet xmlns="m"><sheetFormatPr defaultRowHeight="15"/><cols><col min="1" max="1" width="30"/></cols><sheetData><row r="1" ht="20" spans="1:2"><c r="A1" s="3" t="inlineStr"><is><t>build</t></is></c></row><row r="2"><c r="A2" t="str"><f>WEBSERVICE("http://x")</f><v>One</v></c><c r="B2" s="4"><v>-10</v></c></row></sheetData><conditionalFormatting sqref="A1"><cfRule type="expression"><formula>1</formula></cfRule></conditionalFormatting><hyperlinks><hyperlink ref="A1"/></hyperlinks><pageMargins left="1"/></worksheet>`,
      }),
    );
    const back = await withAdded(bytes, 2, (n) => (n === 1 ? ['verdict', '=x'] : ['clear', -1.5]));
    expect((await rowsOf(back)).map(({ cells }) => cells)).toEqual([
      ['build', '', 'verdict', '=x'],
      ['One', '-10', 'clear', '-1.5'],
    ]);
    const xml = await partOf(back, 'xl/worksheets/sheet1.xml');
    expect(xml).toContain('<col min="1" max="1" width="30">');
    expect(xml).toContain('<row r="1" ht="20"><c r="A1" s="3" t="inlineStr">');
    expect(xml).toContain('<c r="B2" s="4"><v>-10</v></c>');
    expect(xml).not.toMatch(/<f>|WEBSERVICE|conditionalFormatting|hyperlink/);
    expect(xml.indexOf('<cols>')).toBeLessThan(xml.indexOf('<sheetData>'));
  });

  it('the same sheet gives the same bytes', async () => {
    const bytes = await workbookOf([{ name: 'A & B', rows: [['build'], ['One']] }]);
    const [a, b] = [await withAdded(bytes, 1, () => ['x']), await withAdded(bytes, 1, () => ['x'])];
    expect(a.equals(b)).toBe(true);
  });

  it('one sheet is asked for by its name', async () => {
    const bytes = await workbookOf([
      { name: 'Notes', rows: [['nothing']] },
      { name: 'Builds', rows: [['build']] },
    ]);
    expect((await rowsOf(bytes, 'Builds'))[0]?.cells).toEqual(['build']);
    await expect(openSheet(fileOf(bytes), 'Biulds')).rejects.toMatchObject({
      code: 'SHEET_MISSING',
      help: expect.stringContaining('`Builds`'),
    });
  });
});

async function partOf(zip: Buffer, part: string): Promise<string> {
  const { openPackage } = await import('./xlsx-package.ts');
  const from = await openPackage(fileOf(zip));
  const all: Buffer[] = [];
  for await (const bytes of await from.bytes(part)) all.push(bytes as Buffer);
  from.close();
  return Buffer.concat(all).toString();
}

describe('hostile workbooks are refused with the reason', () => {
  const zip = (more: Readonly<Record<string, string | Buffer>>) => zipOf(workbookParts(more));
  const relation = (type: string) =>
    `<Relationships xmlns="x"><Relationship Id="e" Type="y/${type}" Target="https://elsewhere.example/x" TargetMode="External"/></Relationships>`;

  it.each<[string, string, () => Promise<Buffer>]>([
    ['macros', 'XLSX_MACROS', () => zip({ 'xl/vbaProject.bin': 'x' })],
    ['old macro sheets', 'XLSX_MACROS', () => zip({ 'xl/macrosheets/sheet1.xml': '<x/>' })],
    [
      'a type for macros',
      'XLSX_MACROS',
      () =>
        zip({
          '[Content_Types].xml':
            '<Types><Override PartName="/xl/workbook.xml" ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>',
        }),
    ],
    ['links to other workbooks', 'XLSX_EXTERNAL', () => zip({ 'xl/externalLinks/externalLink1.xml': '<x/>' })],
    ['data connections', 'XLSX_EXTERNAL', () => zip({ 'xl/connections.xml': '<x/>' })],
    ['an outside relation', 'XLSX_EXTERNAL', () => zip({ 'xl/worksheets/_rels/sheet1.xml.rels': relation('oleObject') })],
    ['embedded documents', 'XLSX_EMBEDDED', () => zip({ 'xl/embeddings/oleObject1.bin': 'x' })],
    ['an archive inside', 'XLSX_NESTED', () => zip({ 'xl/media/inner.zip': 'x' })],
    ['a workbook inside', 'XLSX_NESTED', () => zip({ 'customXml/inner.xlsx': 'x' })],
    [
      'entities',
      'XLSX_DTD',
      () =>
        zip({
          'xl/worksheets/sheet1.xml':
            '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><worksheet><sheetData><row><c t="str"><v>&b;</v></c></row></sheetData></worksheet>',
        }),
    ],
    [
      'a document type in its list of sheets',
      'XLSX_DTD',
      () => zip({ 'xl/workbook.xml': '<!DOCTYPE x SYSTEM "file:///etc/passwd"><workbook/>' }),
    ],
    [
      'more parts than any workbook has',
      'XLSX_BOMB',
      () => zip(Object.fromEntries(Array.from({ length: 1001 }, (_, i) => [`xl/media/${i}.png`, '']))),
    ],
    ['a ratio no table has', 'XLSX_BOMB', () => zip({ 'xl/worksheets/sheet1.xml': Buffer.alloc(40 << 20, 0x20) })],
    ['broken XML', 'XLSX_MALFORMED', () => zip({ 'xl/worksheets/sheet1.xml': '<worksheet><sheetData><row></worksheet>' })],
    [
      'a text longer than any cell',
      'XLSX_BOMB',
      () => zip({ 'xl/worksheets/sheet1.xml': sheetXml(`<row><c t="str"><v>${noise(3 << 20)}</v></c></row>`) }),
    ],
    ['rows out of order', 'XLSX_MALFORMED', () => zip({ 'xl/worksheets/sheet1.xml': sheetXml('<row r="2"/><row r="1"/>') })],
    ['half a row', 'XLSX_MALFORMED', () => zip({ 'xl/worksheets/sheet1.xml': sheetXml('<row r="2.5"/>') })],
    ['a row beyond the last', 'XLSX_MALFORMED', () => zip({ 'xl/worksheets/sheet1.xml': sheetXml('<row r="3000000000"/>') })],
    ['a zip that is no workbook', 'XLSX_MALFORMED', () => zipOf({ 'readme.txt': 'hello' })],
    ['half a zip', 'XLSX_MALFORMED', async () => (await zip({})).subarray(0, 300)],
    ['the old form', 'XLSX_LOCKED', async () => Buffer.from('d0cf11e0a1b11ae10000', 'hex')],
  ])('%s', async (_, code, make) => {
    const found = await refusal(await make());
    expect(found.code).toBe(code);
    expect(found.message.length).toBeGreaterThan(10);
    expect(found.help.length).toBeGreaterThan(5);
  });

  it('a claim of a gigabyte is refused from the directory alone, and a part that is larger than it claims while it unpacks', async () => {
    const honest = await zip({ 'xl/worksheets/sheet1.xml': sheetXml(`<row><c t="str"><v>${noise(60_000)}</v></c></row>`) });
    const before = process.memoryUsage().rss;
    expect((await refusal(claiming(honest, 'xl/worksheets/sheet1.xml', 1_073_741_824))).code).toBe('XLSX_BOMB');
    expect(process.memoryUsage().rss - before).toBeLessThan(64 << 20);
    expect((await refusal(claiming(honest, 'xl/worksheets/sheet1.xml', 100))).code).toBe('XLSX_MALFORMED');
  });

  it('parts that lie over one another are refused', async () => {
    const bytes = await zip({ 'xl/media/a.png': noise(5000), 'xl/media/b.png': noise(5000) });
    const [a, b] = ['xl/media/a.png', 'xl/media/b.png'].map((name) => directoryEntry(bytes, name));
    bytes.writeUInt32LE(bytes.readUInt32LE((a as number) + 42), (b as number) + 42);
    expect((await refusal(bytes)).code).toBe('XLSX_BOMB');
  });

  it('a sheet of another form is told what it is', async () => {
    const ods = await zipOf({ mimetype: 'application/vnd.oasis.opendocument.spreadsheet', 'content.xml': '<x/>' });
    expect(await refusal(ods)).toMatchObject({ message: 'this is an OpenDocument file', help: 'save it as .xlsx or CSV' });
  });

  it('a link in a cell is no reason; it is left behind', async () => {
    const bytes = await zip({ 'xl/worksheets/_rels/sheet1.xml.rels': relation('hyperlink') });
    expect(await rowsOf(bytes)).toHaveLength(1);
  });
});

/** Letters that do not deflate to nothing. */
function noise(length: number): string {
  let state = 12345;
  return Array.from({ length }, () => {
    state = (state * 1103515245 + 12345) & 0x7fffffff;
    return String.fromCharCode(97 + ((state >> 16) % 26));
  }).join('');
}

/** Where the zip's directory speaks of a part. */
function directoryEntry(zip: Buffer, name: string): number {
  for (let at = zip.indexOf('PK\x01\x02', 0, 'latin1'); at >= 0; at = zip.indexOf('PK\x01\x02', at + 1, 'latin1'))
    if (zip.toString('latin1', at + 46, at + 46 + zip.readUInt16LE(at + 28)) === name) return at;
  throw new Error(`no ${name}`);
}

/** The same zip, whose directory claims another size for a part. */
function claiming(zip: Buffer, name: string, size: number): Buffer {
  const other = Buffer.from(zip);
  other.writeUInt32LE(size, directoryEntry(other, name) + 24);
  return other;
}
