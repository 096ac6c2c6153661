/** Reads a work: what it takes, how long it is, what follows it, and what it makes of the vehicle. */
import { findUnit, NONE } from '../units/index.ts';
import type { Ast } from './ast.ts';
import { Checker, type Vocabulary } from './checker.ts';
import { type Report, suggest } from './diagnostics.ts';
import { readId } from './dictionary-file.ts';
import { expressionOf, type References, readBasis, readCautions, readQuantity, readTemplate, readWorkCalls } from './fields.ts';
import {
  checkVerified,
  type Earlier,
  known,
  type Order,
  type PlanningNames,
  readOrders,
  readPlanning,
  readSpread,
  standingOn,
} from './planning.ts';
import type { Effect, Leaf, SubjectType, TakenOff, Truth, Work, WorkParameter } from './tree.ts';
import { Fields, type YamlNode } from './yaml-reader.ts';

/** What a work takes; read before anything that asks for works. */
export function readParameters(fields: Fields, vocabulary: Pick<Vocabulary, 'kinds'>, report: Report): WorkParameter[] {
  return fields.entries('takes').flatMap(([name, { value }]): WorkParameter[] => {
    const entry = Fields.of(value, `\`${name}\``, report);
    const parameter = entry && readParameter(name, entry, vocabulary, report);
    entry?.done();
    return parameter ? [parameter] : [];
  });
}

function readParameter(name: string, fields: Fields, { kinds }: Pick<Vocabulary, 'kinds'>, report: Report): WorkParameter | undefined {
  const part = fields.text('part');
  const place = fields.oneOf('place', ['vehicle', 'axle', 'corner']);
  const unit = fields.text('unit');
  const meaning = fields.text('meaning')?.text;
  const merge = fields.oneOf('merge', ['greatest', 'least', 'sum', 'exact']) ?? 'greatest';
  const common = { name, merge, ...(meaning && { meaning }) };
  if (part && !kinds.has(part.text))
    return report.add('RULE_UNKNOWN_NAME', part.span, `there is no kind \`${part.text}\``, suggest(part.text, kinds.keys()));
  const of: SubjectType | undefined = part ? { is: 'part', kind: part.text } : place && { is: place };
  if (of) return { ...common, type: { is: 'subject', of } };
  const found = unit && findUnit(unit.text);
  if (unit && !found)
    return report.add('RULE_UNIT', unit.span, `there is no unit \`${unit.text}\``, 'use mm, in, kg, lb, N, kPa, deg, A, V and others');
  if (found) {
    const step = readQuantity(fields.text('in_steps_of'), found.dimension, report)?.value;
    return { ...common, type: { is: 'number', dimension: found.dimension }, unit: found.symbol, ...(step !== undefined && { step }) };
  }
  return report.add(
    'RULE_MISSING_KEY',
    fields.span,
    `nothing says what \`${name}\` is`,
    'give `part: <kind>`, `place: axle`, or `unit: mm`',
  );
}

/** A work as its file says it: what comes before or after it is put together once all works are read. */
export interface ReadWork extends Work {
  readonly orders: { readonly after: readonly Order[]; readonly before: readonly Order[] };
}

export function readWork(
  fields: Fields,
  fileName: string,
  takes: readonly WorkParameter[],
  vocabulary: Vocabulary,
  references: References,
  names: PlanningNames,
  report: Report,
): ReadWork | undefined {
  const checker = new Checker(vocabulary, report);
  for (const { name, type } of takes) {
    if (type.is === 'subject') checker.bind(name, type.of);
    else checker.define(name, { is: 'parameter', type });
  }
  const id = readId(fields, fileName, report);
  fields.node('takes');
  const title = readTemplate(fields.neededText('title', 'say what is done, with its amounts'), checker, false, report);
  const effects = fields.list('effects').flatMap((node) => readEffect(node, checker, vocabulary, report));
  const asLongAs = readCondition(fields.text('as_long_as'), checker, report);
  const then = readWorkCalls(fields.list('then'), checker, references, report);
  const hours = readSpread(fields, 'hours', report);
  const orders = { after: readOrders(fields, 'after', report), before: readOrders(fields, 'before', report) };
  const verify = readVerify(fields.fields('verify'), checker, report);
  const takesOff = fields.list('takes_off').flatMap((node) => readTakenOff(node, takes, checker, vocabulary, report));
  const planning = readPlanning(fields, checker, names, report);
  checkVerified(planning, verify !== undefined, fields, takes, report);
  const rest = {
    skills: fields.texts('skills').map((text) => known(text, names.skills, 'RULE_UNKNOWN_NAME', 'skill', report)),
    tools: fields.texts('tools').map(({ text }) => text),
    irreversible: fields.truth('irreversible') ?? false,
    prerequisites: fields.texts('prerequisites').map(({ text }) => text),
    cautions: readCautions(fields, references, report),
    basis: readBasis(fields, references, report),
  };
  fields.done();
  if (id === undefined || !hours) return undefined;
  return {
    id,
    title,
    takes,
    scope: checker.scope,
    hours,
    after: [],
    orders,
    then,
    effects,
    takesOff,
    planning,
    ...rest,
    ...(verify && { verify }),
    ...(asLongAs && { asLongAs }),
    span: fields.span,
  };
}

/** What must hold of the vehicle and the amounts for the work to be asked for. */
function readCondition(text: ReturnType<Fields['text']>, checker: Checker, report: Report): Truth | undefined {
  const ast = expressionOf(text, report);
  const checked = ast && checker.check(ast, NONE);
  if (checked?.is === 'truth') return checked.truth;
  if (checked) report.add('RULE_TYPE', ast.span, '`as_long_as` is met or not', 'compare two values: `rear_bump_left - amount >= 40 mm`');
  return undefined;
}

function readVerify(fields: Fields | undefined, checker: Checker, report: Report): Work['verify'] {
  const [check, accept] = [fields?.neededText('check', 'say what is checked'), fields?.neededText('accept', 'say what is good enough')];
  const reads = (fields?.texts('reads') ?? []).flatMap((text) => {
    const ast = expressionOf(text, report);
    const leaf = ast && leafOf(ast, checker);
    if (ast && !leaf) report.add('RULE_TYPE', ast.span, 'what is read is one value', 'name an attribute of a part, or a quantity');
    return leaf ? [leaf] : [];
  });
  fields?.done();
  return check && accept && { check: check.text, accept: accept.text, reads };
}

/** `- { kind: skid_plate, of: part, unless_known: "skid plates that were on it" }`. */
function readTakenOff(
  node: YamlNode,
  takes: readonly WorkParameter[],
  checker: Checker,
  { kinds }: Vocabulary,
  report: Report,
): TakenOff[] {
  const fields = Fields.of(node, 'what comes off', report);
  if (!fields) return [];
  const [kind, of, words] = (['kind', 'of', 'unless_known'] as const).map((key) => fields.text(key));
  fields.done();
  if (kind) known(kind, kinds, 'RULE_UNKNOWN_NAME', 'kind', report);
  const subjects = new Map(takes.filter(({ type }) => type.is === 'subject').map(({ name }, i) => [name, i]));
  if (of) known(of, subjects, 'RULE_UNKNOWN_NAME', 'part or place of the work', report);
  if (!kind && !words)
    report.add('RULE_MISSING_KEY', fields.span, 'nothing says what comes off', 'give `kind: <kind>`, or `unless_known: "…"`');
  const at = of && subjects.get(of.text);
  const unlessKnown = words && readTemplate(words, checker, false, report);
  return [{ ...(kind && { kind: kind.text }), ...(at !== undefined && { of: at }), ...(unlessKnown && { unlessKnown }) }];
}

/** Puts together what works say of their order, by name or by what they change, whichever of two says it. */
export function putInOrder(works: ReadonlyMap<string, ReadWork>, names: PlanningNames, report: Report): Map<string, Work> {
  const after = new Map<string, Map<string, Earlier>>([...works.keys()].map((id) => [id, new Map()]));
  const put = (earlier: string, later: string, { otherwise, span }: Order, undoes: boolean): void => {
    const said = after.get(later)?.get(earlier);
    if (earlier === later) return;
    const how = said?.otherwise ? said : { work: earlier, ...(otherwise !== undefined && { otherwise }), span };
    after.get(later)?.set(earlier, { ...how, undoes: undoes || said?.undoes === true });
  };
  for (const { id, orders } of works.values()) {
    for (const order of orders.after)
      for (const other of namedIn(order, works, names, report)) put(other, id, order, (order.changing ?? order.needing) !== undefined);
    for (const order of orders.before) for (const other of namedIn(order, works, names, report)) put(id, other, order, false);
  }
  return new Map([...works].map(([id, { orders: _, ...work }]) => [id, { ...work, after: [...(after.get(id)?.values() ?? [])] }]));
}

function namedIn(order: Order, works: ReadonlyMap<string, ReadWork>, names: PlanningNames, report: Report): string[] {
  const { changing, needing } = order;
  if (needing) known(needing, names.setups, 'RULE_UNKNOWN_NAME', 'set-up', report);
  if (changing) known(changing, names.aspects, 'RULE_UNKNOWN_NAME', 'aspect', report);
  const those = changing ? [...works.values()].filter(({ planning }) => planning.changes.includes(changing.text)) : [];
  const needed = ({ planning }: Work): ReadonlySet<string> =>
    standingOn(
      planning.setups.map(({ setup }) => setup),
      names.setups,
    );
  const under = needing ? [...works.values()].filter((work) => needed(work).has(needing.text)) : [];
  const byName = order.works.map((text) => known(text, works, 'RULE_UNKNOWN_WORK', 'work', report));
  return [...byName, ...[...those, ...under].map(({ id }) => id)];
}

function readEffect(node: YamlNode, checker: Checker, vocabulary: Vocabulary, report: Report): Effect[] {
  const fields = Fields.of(node, 'an effect', report);
  if (!fields) return [];
  const add = fields.text('add');
  const set = fields.text('set');
  const within = fields.text('within');
  const to = fields.neededText('to', add ? 'the value it is added to' : 'the value it is set to');
  fields.done();
  const how = add ? 'add' : 'set';
  const target = readTarget(expressionOf(add ? to : set, report), checker, vocabulary, report);
  const valueAst = expressionOf(add ?? to, report);
  const checked = valueAst && checker.check(valueAst, target?.type.is === 'number' ? target.type.dimension : NONE);
  if (!target || !checked || !valueAst) return [];
  const span = fields.span;
  if (checked.is === 'number' && target.type.is === 'number') {
    const plusMinus = how === 'set' ? readQuantity(within, target.type.dimension, report)?.value : undefined;
    if (within && how === 'add')
      report.add('RULE_TYPE', within.span, 'what is added is as exact as what it is added to', 'leave `within` out, or set the value');
    if (checked.num.dimension === target.type.dimension)
      return [{ how, target, value: checked.num, ...(plusMinus !== undefined && { plusMinus }), span }];
    report.add('RULE_DIMENSION', valueAst.span, 'the effect is of another dimension than its target', 'give it in a unit of the target');
    return [];
  }
  if (how === 'set' && checked.is === 'truth' && target.type.is === 'truth') return [{ how, target, value: checked.truth, span }];
  if (how === 'set' && checked.is === 'text' && target.type.is === 'text') return [{ how, target, value: checked.ref, span }];
  report.add(
    'RULE_TYPE',
    valueAst.span,
    'the effect is of another type than its target',
    'set numbers to numbers, texts to texts; only numbers are added to',
  );
  return [];
}

/** Effects change what is given or kept; what is computed follows from that. */
function readTarget(ast: ReturnType<typeof expressionOf>, checker: Checker, { quantities }: Vocabulary, report: Report): Leaf | undefined {
  const leaf = ast && leafOf(ast, checker);
  if (!ast) return undefined;
  if (!leaf) return report.add('RULE_TYPE', ast.span, 'an effect changes one value', 'name an attribute of a part, or a quantity');
  if (quantities.get(leaf.name)?.comes === 'computed')
    return report.add('RULE_TYPE', ast.span, `\`${leaf.name}\` is computed`, 'change something it is computed from');
  return leaf;
}

/** The one value an expression names. */
function leafOf(ast: Ast, checker: Checker): Leaf | undefined {
  const checked = checker.check(ast);
  const index =
    checked?.is === 'number' && checked.num.op === 'leaf'
      ? checked.num.leaf
      : checked?.is === 'truth' && checked.truth.op === 'truth-leaf'
        ? checked.truth.leaf
        : checked?.is === 'text' && checked.ref.is === 'leaf'
          ? checked.ref.leaf
          : undefined;
  return index === undefined ? undefined : checker.scope.leaves[index];
}
