import { characteristic } from './characteristic.js';

export const coplanarity = characteristic({
  name: 'coplanarity',
  title: 'Coplanarity',
  family: 'length',
  rails: 'against-datum',
  references: ['least-squares', 'minimum-zone'],
  ofGroups: true,
  relative: true,
  meaning: 'coplanarity',
  clause: '5.3',
});
