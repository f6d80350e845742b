export const more_words = {
  this_phone: 'This phone',
  signed_in_as: (name: string, role: string) => (name ? `Signed in as ${name}, ${role}.` : `Nobody has to sign in here; you may do all that an ${role} may.`),
  what: {
    trace: 'Who can have had something from whom',
    rota: 'Food and jars of the coming weeks',
    setup: 'Animals, enclosures, heaters, lamps and all the rest',
    people: 'Who may sign in',
    about: 'What this is, and what it is not',
  },
};

export const about_words = {
  what: 'Warmside keeps the book of a room of reptiles and amphibians, and works out what is to be done today and in which order.',
  care: 'It computes and reminds. It does not see your animals: you do. It gives no diagnosis and no dose. For a sick animal ask a veterinarian with reptile or amphibian experience; for wiring a licensed electrician. The label of a product and local code go before anything written here.',
  ink: 'The notebook is ink: what is written stays, and a mistake is struck by a later entry.',
  phone: 'What you write is kept on this phone first, and goes from it only when the book says that it has it.',
  version: (version: string) => `Version ${version}.`,
  licence: 'Licence: Apache-2.0. It comes without any warranty.',
  notices: 'Licences of what this app is made with',
};
