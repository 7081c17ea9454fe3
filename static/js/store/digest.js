/** What a picture is called by on the server: its SHA-256, in hexadecimal digits. */

/** @param {Blob} blob @returns {Promise<string | undefined>} nothing where the address is neither https nor localhost */
export async function sha256Of(blob) {
  const digest = await crypto.subtle?.digest('SHA-256', await blob.arrayBuffer());
  return digest && Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
