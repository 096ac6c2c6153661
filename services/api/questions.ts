/** A question from its text to its short answer: names are looked up, the build is checked on a worker, the answer is fitted. */
import type { z } from 'zod';
import type { Library } from '../engine/index.ts';
import {
  clauseAround,
  compose,
  idsIn,
  type Judged,
  judge,
  type Lexicon,
  leastLength,
  type NamedPart,
  type NamedVehicle,
  namesIn,
  nearnessIn,
  plainText,
  type Question,
  type Run,
  readQuestion,
  textOf,
} from '../questions/index.ts';
import type { CheckRequest, RequestFault, VehicleInput } from '../vehicle/index.ts';
import type { Answer, Finding, ToMeasure } from '../workshop/index.ts';
import { isToDo } from '../workshop/verdicts.ts';
import { answerTo } from './answering.ts';
import type { Lookup } from './catalogue.ts';
import type { CheckRunner } from './checks.ts';
import { ApiError, type Fault } from './errors.ts';
import { type Question as QuestionForm, type ShortAnswer, USUAL_LENGTH } from './schemas/questions.ts';

export type Asked = z.output<typeof QuestionForm>;
export type Answered = z.input<typeof ShortAnswer>;

/** Where names are looked up, and checks are run. */
export interface Desk {
  readonly library: Library;
  readonly lexicon: Lexicon;
  readonly lookup: Lookup;
  readonly checks: CheckRunner;
  /** For each search the entries whose names are like its words; all of them at once, since each look-up costs more than what it finds. */
  search(sought: readonly SoughtName[]): Promise<readonly (readonly NamedEntry[])[]>;
}

export interface SoughtName {
  readonly noun: 'vehicle' | 'part';
  readonly words: string;
}
/** Of the one or the other, as was sought. */
export type NamedEntry = NamedVehicle | NamedPart;

/** However many names a paste has, so many searches are made for vehicles, and as many for parts. */
const MOST_SEARCHES = 16;
/** An answer of a few hundred characters tells one or two. */
export const MOST_MEASURES = 6;
const LEAST_WORD = 4;

export async function answerQuestion(asked: Asked, desk: Desk): Promise<Answered> {
  const { text, length = USUAL_LENGTH, format = 'text' } = asked;
  const vehicle = await givenVehicle(asked.vehicle, desk);
  const names = await searchNames(text, vehicle ? ['part'] : ['vehicle', 'part'], desk);
  const parts = await partsNamed(text, desk);
  const question = readQuestion(
    {
      text,
      parts,
      ...names,
      ...(vehicle && { vehicle, ...(await classOf(vehicle, desk)) }),
      ...(asked.units && { units: asked.units }),
      ...(asked.jurisdictions && { jurisdictions: asked.jurisdictions }),
    },
    desk.lexicon,
    desk.library,
  );
  // What it cannot do without is known before anything is checked.
  const least = leastLength(format, question.build ? question : undefined);
  if (length < least) throw tooSmall(length, least, question.build ? 'read' : 'any');
  const answer = question.build && (await check(question.build, desk));
  const judged: Judged = answer
    ? judge(question, answer, desk.lexicon.words)
    : { verdict: 'cant_tell', why: 'nothing-read', instead: [], onClass: false };
  const measure = nearestFirst(answer?.measure ?? [], judged.controlling);
  const made = compose({ question, judged, ...(answer && { answer: { ...answer, measure } }), ...desk, format, length });
  if (!made.ok) throw tooSmall(length, made.least, 'checked');
  return {
    reading: question.reading as never,
    verdict: judged.verdict,
    answer: made.text,
    assumptions: [
      ...question.assumptions.map(({ text: said, flips }) => ({ text: said, could_flip: flips })),
      ...(answer?.assumptions ?? []).map((said) => ({ text: said, could_flip: true })),
    ],
    build: (question.build ?? null) as never,
    findings: findingsOf(answer, judged, question) as never,
    measure: measure.slice(0, MOST_MEASURES) as never,
  };
}

async function check(build: CheckRequest, { checks, lookup }: Desk): Promise<Answer> {
  try {
    return (await answerTo(build, lookup, (catalogue) => checks.run({ ...build, most_readings: MOST_MEASURES }, catalogue))).answer;
  } catch (error) {
    throw error instanceof ApiError && error.code === 'BUILD_INVALID'
      ? new ApiError(error.code, undefined, error.faults.map(asOfQuestion))
      : error;
  }
}

/** Law packs stand in the question itself, as its vehicle does. */
const asOfQuestion = (fault: Fault): Fault => ({
  ...fault,
  pointer: fault.pointer.replace(/^\/use\/jurisdictions/, '/jurisdictions'),
});

/** A name, an id or a class is looked up as the text's would be; a vehicle in full is taken as it is. */
async function givenVehicle(given: Asked['vehicle'], desk: Desk): Promise<VehicleInput | undefined> {
  if (given === undefined) return undefined;
  if (typeof given !== 'string') return given as VehicleInput;
  if (desk.library.classes.has(given)) return { from: 'inline', class: given };
  const [exact] = await desk.lookup.vehicles([{ id: given }]);
  if (exact) return { from: 'catalogue', vehicle: exact.id };
  const read = readQuestion({ text: given, ...(await searchNames(given, ['vehicle'], desk)) }, desk.lexicon, desk.library);
  if (read.vehicleInput && read.vehicle !== 'assumed') return read.vehicleInput;
  throw new ApiError('BUILD_INVALID', undefined, [await unknownVehicle(given, desk)]);
}

/** The class says which parts a vehicle of the catalogue has. */
async function classOf(vehicle: VehicleInput, { lookup }: Desk): Promise<{ readonly vehicleClass?: string }> {
  const [found] = vehicle.from === 'catalogue' ? await lookup.vehicles([{ id: vehicle.vehicle }]) : [];
  return found ? { vehicleClass: found.class } : {};
}

async function unknownVehicle(given: string, { lookup, library }: Desk): Promise<RequestFault> {
  const known = (await lookup.ids()).vehicles.slice(0, 5);
  return {
    pointer: '/vehicle',
    code: 'VEHICLE_UNKNOWN',
    message: `there is no vehicle like \`${given}\` in the catalogue`,
    help: `name one of /v1/vehicles (${known.join(', ')}), or a class (${[...library.classes.keys()].join(', ')})`,
  };
}

interface Names {
  found(run: Run): readonly NamedVehicle[];
  foundParts(run: Run): readonly NamedPart[];
}

/** What the catalogue has for each run of words that nothing else explains: like all of them, like each, and of parts like what stands beside them. */
async function searchNames(text: string, nouns: readonly SoughtName['noun'][], { lexicon, search }: Desk): Promise<Names> {
  const plain = plainText(text);
  const runs = namesIn(text, lexicon);
  const sought = nouns.flatMap((noun) => {
    const words = new Set(runs.flatMap((run) => triedOf(run, noun, plain)));
    return [...words].slice(0, MOST_SEARCHES).map((each) => ({ noun, words: each }));
  });
  const found = sought.length === 0 ? [] : await search(sought);
  const known = new Map(sought.map(({ noun, words }, i) => [`${noun} ${words}`, found[i] ?? []]));
  const of = (noun: SoughtName['noun'], run: Run): readonly NamedEntry[] => {
    const hits = triedOf(run, noun, plain).flatMap((words) => known.get(`${noun} ${words}`) ?? []);
    return [...new Map(hits.map((entry) => [entry.id, entry])).values()];
  };
  return { found: (run) => of('vehicle', run), foundParts: (run) => of('part', run) as readonly NamedPart[] };
}

function triedOf(run: Run, noun: SoughtName['noun'], plain: string): string[] {
  const { start, end } = clauseAround(plain, run);
  const words = run.words.map(({ word }) => word).filter(({ length }) => length >= LEAST_WORD);
  return [...new Set([textOf(run), ...words, ...(noun === 'part' ? [plain.slice(start, end).trim()] : [])])].filter((each) => each !== '');
}

const partsNamed = async (text: string, { lookup }: Desk): Promise<readonly NamedPart[]> => {
  const ids = idsIn(text);
  return ids.length === 0 ? [] : lookup.parts(ids.map((id) => ({ id })));
};

const nearestFirst = (measure: readonly ToMeasure[], controlling: Finding | undefined): ToMeasure[] => {
  const decides = ({ findings }: ToMeasure): number => Number(controlling !== undefined && findings.includes(controlling.id));
  return [...measure].sort((a, b) => decides(b) - decides(a));
};

/** What decides, then all else that is not clear and counts, what the part asked about moves first. */
function findingsOf(answer: Answer | undefined, { controlling }: Judged, { focus = [] }: Question): Finding[] {
  if (!answer) return [];
  const nearness = nearnessIn(answer, focus);
  const open = answer.findings.filter(isToDo);
  const others = open.filter(({ id }) => id !== controlling?.id).sort((a, b) => nearness(a) - nearness(b));
  return [...(controlling ? [controlling] : []), ...others];
}

/** How much is known of the least length: that of any answer, of one to this question as it was read, or of the answer itself. */
const KNOWN = {
  any: 'no answer is as short',
  read: 'verdict, assumptions and what was not understood are longer; what to mind comes to it once it is checked',
  checked: 'they do not hold the verdict, what to mind and the assumptions that could flip it',
} as const;

const tooSmall = (length: number, least: number, known: keyof typeof KNOWN): ApiError =>
  new ApiError('LENGTH_TOO_SMALL', `The answer takes at least ${least} characters.`, [
    {
      pointer: '/length',
      code: 'LENGTH_TOO_SMALL',
      message: `${length} characters: ${KNOWN[known]}`,
      help:
        known === 'checked'
          ? `send ${least} or more`
          : `send ${Math.max(USUAL_LENGTH, least + MIND)} or leave it out; less than ${least} is never enough`,
    },
  ]);

/** What to mind takes about so much. */
const MIND = 150;

export type { Question };
