export const RUNTIME_ROLE: string
export const SESSION_OPTIONS: string
export function runtimePassword(ownerUrl: string): string
export function runtimeUrl(ownerUrl: string): string
export function databaseUrl(serverUrl: string, name: string): string
export function databaseName(url: string): string
export function shownUrl(url: string): string
