/** The corner of the class file as the models' plain SI object, its tolerances left out: for tests and benches. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { FrontCorner, Hardpoints, Obstacle } from '../../../services/models/suspension/geometry.ts';
import type { TyreShape } from '../../../services/models/suspension/tyre-shape.ts';
import type { Vec3 } from '../../../services/models/suspension/vector.ts';

const CLASS = new URL('../../../rules/classes/midsize_independent_front.yaml', import.meta.url);
const KINDS = new URL('../../../rules/kinds/', import.meta.url);

// biome-ignore lint/suspicious/noExplicitAny: the document is read as it stands; a wrong shape fails the tests
type Node = any;

const FACTORS: Readonly<Record<string, number>> = { mm: 1e-3, deg: Math.PI / 180, 'N/mm': 1e3, N: 1, kg: 1 };

function number(text: string): number {
  const match = /^(-?[\d.]+) (\S+)( ± .*)?$/.exec(text);
  const factor = match && FACTORS[match[2]!];
  if (!match || !factor) throw new Error(`not a quantity: ${text}`);
  return Number(match[1]) * factor;
}

function point(text: string): Vec3 {
  const parts = text
    .replace(/ mm( ± .*)?$/, '')
    .split(',')
    .map(Number);
  if (parts.length !== 3 || parts.some(Number.isNaN)) throw new Error(`not a point: ${text}`);
  return [parts[0]! * 1e-3, parts[1]! * 1e-3, parts[2]! * 1e-3];
}

const read = (file: URL): Node => parse(readFileSync(file, 'utf8'));

export interface ClassGeometry {
  readonly corner: FrontCorner;
  readonly tyre: TyreShape;
  readonly axleMass: number;
  readonly unsprungCorner: number;
}

export function readClassGeometry(): ClassGeometry {
  const { values, fitted }: Node = read(CLASS);
  const front = (name: string): string => values[name].front;
  const at = (name: string): Vec3 => point(front(name));
  const value = (name: string): number => number(front(name));
  const corner: FrontCorner = {
    hardpoints: {
      lowerArmFrontBush: at('lower_arm_front_bush'),
      lowerArmRearBush: at('lower_arm_rear_bush'),
      lowerBallJoint: at('lower_ball_joint'),
      upperArmFrontBush: at('upper_arm_front_bush'),
      upperArmRearBush: at('upper_arm_rear_bush'),
      upperBallJoint: at('upper_ball_joint'),
      tieRodInner: at('tie_rod_inner'),
      tieRodOuter: at('tie_rod_outer'),
      wheelCentre: at('wheel_centre'),
      wheelAxis: [0, 1, 0],
    } satisfies Hardpoints,
    coilOver: {
      lower: at('coil_over_lower'),
      upper: at('coil_over_upper'),
      extended: value('coil_over_extended'),
      collapsed: value('coil_over_collapsed'),
      springRate: value('coil_over_rate'),
      springForceExtended: value('coil_over_force_extended'),
      springOuterRadius: value('spring_outer_radius'),
    },
    bumpStop: { contactLength: value('bump_stop_contact_length'), solidLength: value('bump_stop_solid_length') },
    upperBallJointLimit: { neutralBias: value('upper_joint_bias'), swingLimit: value('upper_joint_swing') },
    lowerBallJointLimit: { neutralBias: value('lower_joint_bias'), swingLimit: value('lower_joint_swing') },
    halfShaft: {
      inner: at('half_shaft_inner'),
      outer: at('half_shaft_outer'),
      innerMaxAngle: value('shaft_inner_most_angle'),
      outerMaxAngle: value('shaft_outer_most_angle'),
      plungeEachWay: value('shaft_plunge'),
    },
    brakeHose: {
      chassisEnd: at('hose_chassis_end'),
      caliperEnd: at('hose_caliper_end'),
      freeLength: number(fitted.find(({ kind }: Node) => kind === 'brake_hose').attributes.free_length),
    },
    antiRollBar: {
      axisPoint: at('anti_roll_axis'),
      axisDirection: [0, 1, 0],
      linkLower: at('anti_roll_link_lower'),
      linkUpper: at('anti_roll_link_upper'),
    },
    steering: { rackTravel: value('rack_travel') },
    obstacles: fitted
      .filter(({ at: where, shape }: Node) => shape && where === 'front')
      .map(
        ({ kind, shape }: Node): Obstacle => ({
          id: kind,
          frame: read(new URL(`${kind}.yaml`, KINDS)).frame,
          side: 'both',
          radius: shape.radius ? number(shape.radius) : 0,
          flexible: false,
          lines: (shape.lines ?? []).map((line: Node[]) => line.map(point)),
          patches: (shape.patches ?? []).map((patch: Node[]) => patch.map(point)),
        }),
      ),
  };
  const freeRadius = value('design_tyre_diameter') / 2;
  return {
    corner,
    tyre: {
      freeRadius,
      // Standing, the wheel's centre is this high at design height.
      loadedRadius: corner.hardpoints.wheelCentre[2],
      sectionWidth: value('design_tyre_width'),
      shoulderRadius: value('tyre_shoulder_radius'),
    },
    axleMass: value('kerb_axle_mass'),
    unsprungCorner: value('unsprung_corner_mass'),
  };
}
