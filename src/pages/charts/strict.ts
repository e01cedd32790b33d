const fail = (...message: readonly unknown[]): never => {
  throw new Error(`chart: ${message.map(String).join(' ')}`);
};

/** A logger of vega for which a warning is an error: the picture was not drawn as written. */
export const strict = {
  level: () => strict,
  error: fail,
  warn: fail,
  info: () => strict,
  debug: () => strict,
};
