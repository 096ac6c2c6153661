/** Findings that no rule makes: a position nothing fills, and statements that contradict each other. */
import type { Candidate } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Finding } from './answer.ts';
import { type BoundPair, disagreementAt, endOf, passedBounds, spoken } from './contradictions.ts';
import { joinWords, lowerFirst, nameSubjects, upperFirst } from './describe.ts';
import { type System, show } from './show.ts';
import { originOf, valueId } from './values-out.ts';

const PLAIN = { as_before: false, margin: null, numbers: [], doubt: [], missing: [], work: [], cautions: [] } as const;

export function unfilledFindings(world: VehicleWorld): Finding[] {
  return world.assembly.unfilled.map(({ kind, place }) => {
    const title = world.library.kinds.get(kind)?.title ?? kind;
    const at = place === 'vehicle' ? '' : ` at ${place.replace('-', ' ')}`;
    return {
      ...PLAIN,
      id: `position-filled:${kind}:${place}`,
      rule: 'position-filled',
      title: 'Every position of the class is filled',
      hazard: 'safety',
      verdict: 'unknown',
      subject: `${title}${at}`,
      parts: [],
      says: `Nothing is said about the ${title.toLowerCase()}${at}: name the one that is fitted, or the one that will be`,
      basis: [{ kind: 'common-practice', title: 'what is not known about is not fine' }],
    };
  });
}

const OUT_OF_CLASS =
  'no vehicle of this class is taken to have that: it may be of another place, in another unit, or taken at another height or lock. Read it once more, and send both: two readings that agree stand';
const ACROSS =
  'what is of this kind is on the other side of the tyre: take + for the outboard side and − for the inboard one, and send it again with its sign; of something else, gauge the gap as one of your own obstacles (`own_obstacle`)';
const WHY_OUTSIDE: Readonly<Record<string, string>> = { class: OUT_OF_CLASS, kind: ACROSS };
const UNSETTLED = 'What rests on them is not settled until they are read again';

/** Statements about one value that cannot all be true, among the values that rules read and those they rest on. */
export function disagreementFindings(
  slots: Iterable<number>,
  world: VehicleWorld,
  system: System,
  isAsked = (_slot: number): boolean => true,
): Finding[] {
  return [...world.values.below(slots)].filter(isAsked).flatMap((slot) => {
    const node = world.values.node(slot);
    const found = disagreementAt(slot, world);
    if (!found || node.signature?.type.is !== 'number') return [];
    const { pair, leavesOpen } = found;
    const shown = show(node.signature.unit, node.signature.type.dimension, system);
    const told = pair.map(({ candidate, from }) => `${shown.text(candidate.value)} (${from}, ± ${shown.text(candidate.plusMinus)})`);
    const subject = nameSubjects(node.subjects, world) || 'the vehicle';
    return [
      {
        ...PLAIN,
        id: `statements-agree:${valueId(slot, world)}`,
        rule: 'statements-agree',
        title: 'What is said about a value agrees within its tolerances',
        hazard: 'damage' as const,
        verdict: 'close' as const,
        subject,
        parts: [],
        says: `${node.signature.title} of ${subject}: ${told.join(' against ')}; ${WHY_OUTSIDE[pair[1].from] ?? 'one of the two is wrong, or is of another part'}. ${leavesOpen ? UNSETTLED : 'The one named first here is used'}`,
        numbers: [
          {
            name: node.name,
            title: node.signature.title,
            ...shown.amount(pair[0].candidate.value, pair[0].candidate.plusMinus),
            origin: originOf(node).kind,
            id: valueId(slot, world),
          },
        ],
        basis: [{ kind: 'common-practice' as const, title: 'common practice, no source' }],
      },
    ];
  });
}

/** Two values of which one cannot pass the other. */
export function boundFindings(world: VehicleWorld, system: System, areAsked = (_slots: readonly number[]): boolean => true): Finding[] {
  const asked = passedBounds(world).filter(({ slot, others }) => areAsked([slot, ...others]));
  return asked.map((passed) => boundFinding(passed, world, system));
}

function boundFinding({ slot, bound: { is, sum }, others, limit }: BoundPair, world: VehicleWorld, system: System): Finding {
  const told = (at: number): string => {
    const { signature, subjects } = world.values.node(at);
    const shown = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
    const { value, plusMinus, rank } = spoken(world.values.node(at)) as Candidate;
    const of = nameSubjects(subjects, world);
    return `${lowerFirst(signature?.title ?? '')}${of === '' ? '' : ` of ${of}`}, ${shown?.text(value)} (${rank}, ± ${shown?.text(plusMinus)})`;
  };
  const against = joinWords(others.map(told));
  const named = told(slot);
  return {
    ...PLAIN,
    id: `statements-agree:${[slot, ...others].map((at) => valueId(at, world)).join(':')}`,
    rule: 'statements-agree',
    title: 'What is said of one vehicle can all be true',
    hazard: 'damage',
    verdict: 'close',
    subject: nameSubjects(world.values.node(slot).subjects, world) || 'the vehicle',
    parts: [],
    says: `${upperFirst(named)} is never ${is} ${limit === undefined ? `${sum ? 'the sum of ' : ''}${against}` : `${limitText(limit, is, world, system)}, as computed of ${against}`}: one of them is wrong. ${UNSETTLED}`,
    basis: [{ kind: 'common-practice', title: 'what they mean: no vehicle can have both' }],
  };
}

/** A bound that is computed, with the furthest it may be. */
function limitText(limit: number, is: 'above' | 'below', world: VehicleWorld, system: System): string {
  const { signature } = world.values.node(limit);
  const { value, plusMinus } = endOf(limit, is, world) ?? { value: Number.NaN, plusMinus: 0 };
  const shown = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
  return `${lowerFirst(signature?.title ?? '')}, ${shown?.text(value + (is === 'above' ? plusMinus : -plusMinus))} at ${is === 'above' ? 'most' : 'least'}`;
}
