/** Headers that only proxy.ts writes; what a client sends under these names is overwritten there. */
export const REQUEST_ID_HEADER = 'x-request-id'
export const CLIENT_ADDRESS_HEADER = 'x-kerfwatch-address'
export const REQUEST_PATH_HEADER = 'x-kerfwatch-path'
/** Written by bin/web.mjs from the connection, over whatever the client sent. */
export const SOCKET_ADDRESS_HEADER = 'x-kerfwatch-socket'
