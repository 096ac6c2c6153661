/** What a plan says beside its job and its money, as lines that the table and the workbook tell alike. */
import type { Amount } from '../answer.ts';
import type { Plan } from '../plan/plan.ts';

export interface Beside {
  readonly section: string;
  readonly what: string;
  readonly of: string;
  readonly value: string | number | null;
  readonly unit: string;
  readonly plusMinus: number | null;
  readonly text: string;
}

const line = (section: string, what: string, more: Partial<Beside> = {}): Beside => ({
  section,
  what,
  of: '',
  value: null,
  unit: '',
  plusMinus: null,
  text: '',
  ...more,
});
const amount = (given: Amount | null): Pick<Beside, 'value' | 'unit' | 'plusMinus'> => ({
  value: given?.value ?? null,
  unit: given?.unit ?? '',
  plusMinus: given?.plus_minus ?? null,
});

/** Before the first bolt turns, and between stages. */
export function besideTheJob({ inspection, risks, contacts, stages, as_built }: Plan): Beside[] {
  return [
    ...inspection.map(({ title, verdict, says, how, accept, by }) =>
      line('Look over first', title, { of: by ?? '', value: verdict, text: `${says} How: ${how}. Good enough: ${accept}` }),
    ),
    ...risks.confirm_first.map(({ step, title, contingent, confirm }) =>
      line('Confirm before anything is cut', title, { of: step, value: contingent ? 'if needed' : 'sure', text: confirm.join('; ') }),
    ),
    ...(stages?.stages ?? []).map(({ name, hours, money, verdict, safe_to_drive, steps }) =>
      line('Stage', name, {
        of: money ? `${money.complete ? '' : 'at least '}${money.total} ${money.currency}` : '',
        value: hours,
        unit: 'h',
        text: `${verdict}; safe to drive: ${safe_to_drive.replace('_', ' ')}; ${steps.join(', ')}`,
      }),
    ),
    ...as_built.map(({ step, by, date, closed, open }) =>
      line('As built', step, { of: `${by}, ${date}`, value: closed ? 'closed' : 'open', text: open.join('; ') }),
    ),
    ...contacts.refused.map(({ finding, why }) => line('Not accepted', finding, { text: why })),
  ];
}

export function handedOver({ hand_over: sheet }: Plan): Beside[] {
  const targets = (title: string): Beside[] =>
    sheet.alignment.map(({ title: angle, axle, target, says }) =>
      line(title, `Target: ${angle}`, { of: axle, ...amount(target), ...(target ? {} : { value: 'maker’s sheet' }), text: says }),
    );
  const circuits = (title: string): Beside[] =>
    sheet.wiring.circuits.flatMap(({ name, state, current, cable, needs, fuse, says, asked }) => [
      line(title, 'Current drawn', {
        of: name,
        ...amount(current),
        text: `${state}: ${says}${asked.length > 0 ? `; asked for: ${asked.join(', ')}` : ''}`,
      }),
      line(title, 'Cable, one way', { of: name, ...amount(cable.length) }),
      line(title, cable.area ? 'Copper' : 'Copper, at least', {
        of: name,
        ...amount(cable.area ?? needs?.area ?? null),
        text: needs?.gauge ?? '',
      }),
      line(title, fuse.fitted ? 'Fuse' : 'Fuse, to fit', { of: name, ...amount(fuse.fitted ?? fuse.choose) }),
    ]);
  const list = (section: string, texts: readonly string[]): Beside[] => texts.map((text) => line(section, text));
  return [
    ...sheet.sections.flatMap(({ id, title, values, by_hand }) => [
      ...(id === 'alignment' ? targets(title) : id === 'wiring' ? circuits(title) : []),
      ...values.map((value) =>
        line(title, value.title, {
          of: value.subject,
          value: value.value === null ? 'not known' : String(value.value) === '' ? null : (value.value as string | number),
          unit: value.unit ?? '',
          plusMinus: value.plus_minus ?? null,
        }),
      ),
      ...list(title, by_hand),
    ]),
    ...list(
      'Known contacts',
      sheet.known_contacts.map(({ says, by, date }) => `${says} (accepted by ${by}, ${date})`),
    ),
    ...list(
      'Still open',
      sheet.still_open.map(({ verdict, says }) => `${verdict}: ${says}`),
    ),
    ...list('Parts taken off', sheet.parts_taken_off),
    ...list('Mind', sheet.cautions),
  ];
}
