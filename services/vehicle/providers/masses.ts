/** What parts weigh that nobody has weighed, where that follows from what is said of them; else it is what is typical of their kind. */
import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { BUMPER_MASS, type MassRange, WINCH_MASS_BY_PULL } from '../../models/loads/part-mass.ts';
import { parseDesignation } from '../../models/tyres/designation.ts';
import {
  SPARE_WITHIN,
  spareMass,
  TYRE_MASS_BY_AREA,
  tyreArea,
  tyreAreaByDiameter,
  WHEEL_MASS_BY_AREA,
  wheelArea,
} from '../../models/tyres/mass.ts';
import { type Part, saidKey } from '../assembly.ts';
import type { VehicleWorld } from '../world.ts';

const MASS = 'part.mass';

export function massProviders(world: VehicleWorld): Provider[] {
  /** Four of one make and size weigh alike: what the model is off by for one, it is off by for all of them, and for no others. */
  const alike = ({ group }: Part) => {
    const [first] = world.assembly.parts.filter((part) => part.group === group);
    return { name: MASS, subject: first?.subject ?? -1 };
  };
  /** So much to each of something, as far off as the range is wide. */
  const massBy = <N>(ask: FormulaAsk<N>, part: Part, { middle, plusMinus }: MassRange, of: N): N => {
    ask.within(ask.times(ask.of(plusMinus), of), alike(part));
    return ask.times(ask.of(middle), of);
  };

  const tyre = <N>(ask: FormulaAsk<N>, part: Part): N => {
    const [diameter, width, rim] = ['overall_diameter', 'section_width', 'rim_diameter'].map((name) =>
      ask.value(`tyre.${name}`, part.subject),
    ) as [N, N, N];
    if (!ask.isKnown(width) || !ask.isKnown(rim))
      return massBy(
        ask,
        part,
        TYRE_MASS_BY_AREA.byDiameter,
        ask.model((d) => tyreAreaByDiameter(d as number), [diameter, 'rises']),
      );
    const area = ask.model(tyreArea as (...args: readonly number[]) => number, [diameter, 'rises'], [width, 'rises'], [rim, 'falls']);
    return massBy(ask, part, TYRE_MASS_BY_AREA[tyreKind(ask.text('tyre.designation', part.subject))], area);
  };
  const wheel = <N>(ask: FormulaAsk<N>, part: Part): N => {
    const [rim, width] = [ask.value('wheel.rim_diameter', part.subject), ask.value('wheel.rim_width', part.subject)];
    return massBy(
      ask,
      part,
      WHEEL_MASS_BY_AREA,
      ask.model(wheelArea as (...args: readonly number[]) => number, [rim, 'rises'], [width, 'rises']),
    );
  };
  const spare = <N>(ask: FormulaAsk<N>, part: Part): N => {
    const mass = ask.model((d) => spareMass(d as number), [ask.value('spare_tyre.overall_diameter', part.subject), 'rises']);
    ask.within(ask.times(ask.of(SPARE_WITHIN), mass));
    return mass;
  };
  const winch = <N>(ask: FormulaAsk<N>, part: Part): N => massBy(ask, part, WINCH_MASS_BY_PULL, ask.value('winch.line_pull', part.subject));
  const bumper =
    (end: 'front' | 'rear') =>
    <N>(ask: FormulaAsk<N>, part: Part): N => {
      const unsaid = part.state === 'planned' && !world.assembly.said.has(saidKey('bumper.steel', [part.subject]));
      const steel = world.values.read(world.values.slot('bumper.steel', [part.subject])) === 1;
      return massBy(ask, part, BUMPER_MASS[end][unsaid ? 'unsaid' : steel ? 'steel' : 'lighter'], ask.of(1));
    };
  const byKind: Readonly<Record<string, <N>(ask: FormulaAsk<N>, part: Part) => N>> = {
    tyre,
    wheel,
    spare_tyre: spare,
    winch,
    front_bumper: bumper('front'),
    rear_bumper: bumper('rear'),
  };

  return [
    {
      provides: MASS,
      model: 'by its size, within what is sold of that size; from memory',
      ...formula((ask, subject) => {
        const part = world.partOf(subject);
        const massOf = part && byKind[part.kind];
        return massOf ? massOf(ask, part) : ask.unknown('it has not been weighed');
      }),
    },
  ];
}

/** Which tyres are built alike heavy; a size with neither marks nor load index may be of any kind. */
function tyreKind(designation: string | undefined): keyof typeof TYRE_MASS_BY_AREA {
  const read = designation === undefined ? undefined : parseDesignation(designation);
  if (!read?.ok || read.value.serviceUnclear) return 'unknown';
  const { service, loadIndex } = read.value;
  if (service !== 'passenger') return 'heavier';
  return loadIndex === undefined ? 'unknown' : 'passenger';
}
