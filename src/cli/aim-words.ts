/** What `aim` prints on the terminal, one message for each sentence; terminals are told in English. */
const messages = {
  'no-length':
    '--{key}: “{text}” is not a length with its unit; wanted a number and one of m, mm, um, in, ft, thou, such as 14in or 14-3/8in',
  travel: '--travel must be more than zero: it is the distance from the near place to the far one',
  pair: '--{one} and --{other} belong together: give both, or neither',
  families:
    '--level, --turned and --u are three readings of one level: give all of them as lengths, or all as slopes',
  unusual:
    '--{key} {text}: more than {most} is unusual here. Is the unit right? With --sure it is worked out all the same.',
  'unusual-short':
    '--{key} {text}: less than {least} is unusual here. Is the unit right? With --sure it is worked out all the same.',
  set: 'set point: near target to read {exact} (as the display reads: {shown})',
  'set.sideways': 'set point in the other plane: near target to read {exact} (as the display reads: {shown})',
  formula:
    'set point = near reading − (far reading − near reading) · near/travel; near reads {near}, far reads {far}, near/travel {ratio}',
  'formula.first':
    'set point = near reading − ((far reading − near reading) − difference) · near/travel; near reads {near}, far reads {far}, from the first set-up they differed by {differ}, near/travel {ratio}',
  'sign.first':
    'sign: as read, in the same sense at both monuments and from both set-ups. Turn the plane about the pivot until the near monument reads the set point; both monuments then differ as from the first set-up, and the plane is parallel to what it was. Read both again, and repeat until they do.',
  check: 'check value: near 9 in, travel 54 in, far +0.010 in and near at zero give -0.00167 in',
  turned: 'set point: to read {exact} (as the display reads: {shown})',
  'turned.formula':
    'set point = (reading + reading when turned) / 2: the zero. It was off by (reading − reading when turned) / 2 = {off}, in the sense of the first reading. Set it to the set point, turn it once more, and repeat until both readings are alike.',
  'turned.check':
    'check value: +0.06 mm/m, and -0.02 mm/m when turned, give +0.02 mm/m; it was off by +0.04 mm/m',
  sign: 'sign: as read, in the same sense at both places. If the far target reads more than the near one, the set point is less than the near reading. Turn the beam about the pivot until the near target reads the set point; both targets then read alike. Read both again, and repeat until they do.',
  'sign.between':
    'sign: as read, in the same sense at both places. The pivot is past the near place: if the far target reads more than the near one, the set point is more than the near reading. Turn the beam about the pivot until the near target reads the set point; both targets then read alike. Read both again, and repeat until they do.',
  u: 'standard uncertainty of the set point: {u}',
  residual: 'if the near target is set wrong by {step}, the targets differ by {left}',
  'at-pivot':
    'the near place is at the pivot: turning the beam does not move what its target reads, so look at the far target alone',
  'not-turned': 'the beam was not turned between the two rounds: nothing shows where the pivot is',
  pivot:
    'pivot: {pivot} before the near place, as this round shows; {stated} was taken. Take it for the next rounds.',
  next: 'next set point: near target to read {exact} (as the display reads: {shown})',
} as const;

/** @param parameters Of the message, by name. @throws {Error} one of them is missing: a programming mistake. */
export const sayAim = (
  key: keyof typeof messages,
  parameters: Readonly<Record<string, string>> = {},
): string =>
  messages[key].replace(/\{(\w+)\}/g, (_, name: string) => {
    const text = parameters[name];
    if (text === undefined) throw new Error(`aim: ${key} needs ${name}`);
    return text;
  });
