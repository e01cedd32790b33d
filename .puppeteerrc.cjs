// The browser comes from an npm package or from the machine, never from a download at install:
// on a machine without internet that download fails and takes the whole install with it.
module.exports = { skipDownload: true };
