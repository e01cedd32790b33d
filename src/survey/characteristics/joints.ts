/** Changes of height, sideways place and direction at a joint of a rail. */
import { characteristic } from './characteristic.js';

const meaning = {
  label: 'Joints',
  text: 'each part of the rail is continued to the joint by the line through its two nearest stations; step: of the part behind the joint less that before it, where it is farthest from zero, + higher or to the left; change of slope likewise, + it rises more or turns more to the left.',
} as const;
const step = {
  family: 'length',
  rails: 'any',
  ofJoints: true,
  sign: 'higher or to the left',
  meaning,
} as const;
const slope = {
  family: 'slope',
  rails: 'any',
  ofJoints: true,
  sign: 'it rises more or turns more to the left',
  meaning,
} as const;

export const joints = [
  characteristic({ ...step, name: 'joint-step-vertical', title: 'Step at a joint, vertical' }),
  characteristic({ ...step, name: 'joint-step-horizontal', title: 'Step at a joint, horizontal' }),
  characteristic({ ...slope, name: 'joint-slope-vertical', title: 'Change of slope at a joint, vertical' }),
  characteristic({
    ...slope,
    name: 'joint-slope-horizontal',
    title: 'Change of slope at a joint, horizontal',
  }),
] as const;
