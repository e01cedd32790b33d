/**
 * The packed Chromium that this version was tested with, byte for byte.
 *
 * The browser is code that we unpack and execute, so what may run is fixed here and not in the folder
 * it runs from: each file is hashed before every process's first use. A test recomputes the table from
 * the npm package; after an update of that package it fails and prints the new table.
 */
export const packedChromium = {
  packageName: '@sparticuz/chromium',
  packageVersion: '147.0.0',
  chromiumVersion: '147.0.7727.0',
  executable: 'chromium',
  libraries: 'lib',
  /** SHA-256 and size in bytes of every unpacked file, by its path in the unpacked folder. */
  files: {
    chromium: {
      bytes: 196676728,
      sha256: 'bf7d8699042e0e1768ee136c19cf666371f74a39c8b6cfb246d15b3aa18c30ce',
    },
    'lib/libexpat.so.1': {
      bytes: 202320,
      sha256: 'a42c73fa261c746045922f7a1631bb31989eb70aeed4766f26e9173cf655dd84',
    },
    'lib/libfreebl3.chk': {
      bytes: 84,
      sha256: '80a329bfb6616c408bb70a17710cd6a512100a6bb5f902abb6f5f988698e5a37',
    },
    'lib/libfreebl3.so': {
      bytes: 16184,
      sha256: '1007112117baaee58ebf2f0b361bd1ed9e434d458117028ed01b17a6ca24d0e6',
    },
    'lib/libfreeblpriv3.chk': {
      bytes: 84,
      sha256: '3c153b3932171c30c40d50d1d613f5a39b685289a750df25fb6989440001cb32',
    },
    'lib/libfreeblpriv3.so': {
      bytes: 790704,
      sha256: '67bff729addafde4b3c904716fccca876fc5637e8c475caca00ad60a08cc2313',
    },
    'lib/libnspr4.so': {
      bytes: 265888,
      sha256: 'b7ddec11e9e21e4025c0b911b55e880afbb04d12a00f1f3736245ce85f62827f',
    },
    'lib/libnss3.so': {
      bytes: 1287000,
      sha256: '1719436d5424fd9b2dece28435621198cca05d0ecc5539f443f090d411a460c0',
    },
    'lib/libnssutil3.so': {
      bytes: 216896,
      sha256: 'c2a72f8ebdf5629c7bde24db372bee5dcdd074a32cae3910ac4a2a85fd5485a4',
    },
    'lib/libplc4.so': {
      bytes: 24680,
      sha256: '5ecfb0db51ce18c5ec6b187c3ccda03c467b2dfdaa939fe579f8a54531b9519f',
    },
    'lib/libplds4.so': {
      bytes: 16424,
      sha256: '05eb3c4b52b5706a8c5535cc4fa39aaa9d26e02ecb9340b03d841bf038b73e21',
    },
    'lib/libsoftokn3.chk': {
      bytes: 84,
      sha256: 'dc9160cb612d48e4c3a3209341db43ff27c8c3110bac26344f0bb8fb182ad6d6',
    },
    'lib/libsoftokn3.so': {
      bytes: 361648,
      sha256: 'd410831e2062ef05e6d5efdc69e159ace89d2f41670e0a859ea294d6f06c82de',
    },
    'fonts/Open_Sans/OpenSans-Regular.ttf': {
      bytes: 147528,
      sha256: 'c53aceea2dcf5b4098099c0c4d0a061d17e178a049317b42a422b1a9f7f8eb59',
    },
  },
} as const;
