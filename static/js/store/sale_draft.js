/** What is typed into the form of a sale, kept while it is typed, and what the next sale will likely share. */
import { openDatabase } from './database.js';
import { save } from './saving.js';

const rowName = (name) => `sale-draft/${name}`;

/** What was typed and never kept. @param {string} name `new` with its words, or a sale's id @returns {Promise<Record<string, string> | undefined>} */
export const readDraft = async (name) => (await (await openDatabase()).get('meta', rowName(name)))?.value;

/** @param {string} name @param {Record<string, string>} typed */
export const keepDraft = (name, typed) => save(({ put }) => put('meta', { key: rowName(name), value: { ...typed } }));

/** @param {string} name */
export const dropDraft = (name) => save(({ remove }) => remove('meta', rowName(name)));

/** Currency, place, family and type of the sale kept last. @returns {Promise<Record<string, any>>} */
export async function lastSale() {
  const database = await openDatabase();
  const [sale, set] = await Promise.all(['last-sale', 'last'].map((key) => database.get('meta', key)));
  return sale?.value ?? { currency: set?.value.currency?.code, place: set?.value.place };
}

/** Keeps a sale in one transaction with what the next one will share; its draft goes. @param {string} name @param {import('./sales.js').Sale} sale */
export function keepTyped(name, sale) {
  const { currency, place, family, model_sheet: type } = sale;
  return save(({ put, remove }) => {
    put('sales', { ...sale, changed: new Date().toISOString() });
    put('meta', { key: 'last-sale', value: { currency, place, family, model_sheet: type } });
    remove('meta', rowName(name));
  });
}
