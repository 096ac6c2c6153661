/** The same linkage as a model of a multibody engine: rigid bodies with hinges and ball joints, closed by two point constraints. */
import load from '@mujoco/mujoco';
import type { Hardpoints } from '../../../services/models/suspension/geometry.ts';
import { addScaled, subtract, unit, type Vec3 } from '../../../services/models/suspension/vector.ts';

export interface SettledPose {
  readonly wheelCentre: Vec3;
  readonly axisTip: Vec3;
  readonly upperBallJoint: Vec3;
  readonly tieRodOuter: Vec3;
}

export type Multibody = (lowerArmTurn: number, rack: number) => SettledPose;

/** A solver for the hardpoints; each call starts from design and lets the damped bodies come to rest. */
export async function multibodyLinkage(h: Hardpoints): Promise<Multibody> {
  const mujoco = await load();
  const model = mujoco.MjModel.from_xml_string(document(h));
  if (!model) throw new Error('the model was not accepted');
  const data = new mujoco.MjData(model);
  return (lowerArmTurn, rack) => {
    mujoco.mj_resetData(model, data);
    const width = model.eq_data.length / model.neq;
    const steps = 3000;
    for (let i = 0; i < steps; i++) {
      // Led there over the first third, so that no branch is jumped.
      const share = Math.min(1, (3 * i) / steps);
      model.eq_data[0] = lowerArmTurn * share;
      model.eq_data[width] = rack * share;
      mujoco.mj_step(model, data);
    }
    const site = (i: number): Vec3 => [data.site_xpos[3 * i], data.site_xpos[3 * i + 1], data.site_xpos[3 * i + 2]];
    return { wheelCentre: site(0), axisTip: site(1), upperBallJoint: site(2), tieRodOuter: site(3) };
  };
}

/** Every body's frame is the vehicle's at design, so all coordinates are the hardpoints' own. */
function document(h: Hardpoints): string {
  const at = (p: Vec3) => p.map((x) => x.toPrecision(17)).join(' ');
  const mass = (p: Vec3) => `<inertial pos="${at(p)}" mass="1" diaginertia="0.05 0.05 0.05"/>`;
  const hinge = (name: string, front: Vec3, rear: Vec3) =>
    `<joint name="${name}" type="hinge" pos="${at(rear)}" axis="${at(unit(subtract(front, rear))!)}"/>`;
  const site = (p: Vec3) => `<site pos="${at(p)}"/>`;
  return `<mujoco>
  <compiler angle="radian"/>
  <option gravity="0 0 0" timestep="0.002" integrator="implicitfast" solver="Newton" tolerance="1e-14" iterations="100"/>
  <default><joint damping="2"/><equality solref="0.01 1" solimp="0.999 0.9999 0.001"/></default>
  <worldbody>
    <body name="lower">${mass(h.lowerBallJoint)}${hinge('lower', h.lowerArmFrontBush, h.lowerArmRearBush)}
      <body name="knuckle">${mass(h.wheelCentre)}<joint type="ball" pos="${at(h.lowerBallJoint)}"/>
        ${site(h.wheelCentre)}${site(addScaled(h.wheelCentre, h.wheelAxis, 1))}${site(h.upperBallJoint)}${site(h.tieRodOuter)}
      </body>
    </body>
    <body name="upper">${mass(h.upperBallJoint)}${hinge('upper', h.upperArmFrontBush, h.upperArmRearBush)}</body>
    <body name="rack">${mass(h.tieRodInner)}<joint name="rack" type="slide" axis="0 1 0"/>
      <body name="rod">${mass(h.tieRodOuter)}<joint type="ball" pos="${at(h.tieRodInner)}"/></body>
    </body>
  </worldbody>
  <equality>
    <joint joint1="lower" polycoef="0 0 0 0 0"/>
    <joint joint1="rack" polycoef="0 0 0 0 0"/>
    <connect body1="knuckle" body2="upper" anchor="${at(h.upperBallJoint)}"/>
    <connect body1="rod" body2="knuckle" anchor="${at(h.tieRodOuter)}"/>
  </equality>
</mujoco>`;
}
