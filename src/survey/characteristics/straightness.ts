/** Straightness of a rail in a plane, whole and local. @see ISO 12780-1, STRt */
import { characteristic, referenceNames } from './characteristic.js';

const whole = {
  family: 'length',
  rails: 'any',
  references: referenceNames,
  meaning: 'straightness',
  clause: '5.2',
} as const;

const local = {
  ...whole,
  local: true,
  meaning: 'local-straightness',
  clause: '5.2',
} as const;

export const straightness = [
  characteristic({
    ...whole,
    name: 'straightness-vertical',
    title: 'Straightness, vertical',
    prompt: 'straightness up and down, each rail',
  }),
  characteristic({
    ...whole,
    name: 'straightness-horizontal',
    title: 'Straightness, horizontal',
    prompt: 'straightness sideways, each rail',
  }),
  characteristic({ ...local, name: 'straightness-vertical-local', title: 'Local straightness, vertical' }),
  characteristic({
    ...local,
    name: 'straightness-horizontal-local',
    title: 'Local straightness, horizontal',
  }),
] as const;
