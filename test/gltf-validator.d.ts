declare module 'gltf-validator' {
  export interface Message {
    readonly code: string;
    readonly message: string;
    /** 0 error, 1 warning, 2 information, 3 hint. */
    readonly severity: number;
  }
  export function validateBytes(
    bytes: Uint8Array,
  ): Promise<{ readonly issues: { readonly messages: Message[] } }>;
}
