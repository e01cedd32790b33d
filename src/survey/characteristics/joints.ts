/** Changes of height, sideways place and direction at a joint of a rail. */
import { characteristic } from './characteristic.js';

const step = {
  family: 'length',
  rails: 'any',
  ofJoints: true,
  sign: 'higher or to the left',
  meaning: 'joints',
} as const;
const slope = {
  family: 'slope',
  rails: 'any',
  ofJoints: true,
  sign: 'it rises more or turns more to the left',
  meaning: 'joints',
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
