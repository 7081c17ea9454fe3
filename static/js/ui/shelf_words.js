/** What lies on the shelf, in words. */

export const KINDS = { spare: 'Spare', want: 'Want', donor: 'Donor' };
