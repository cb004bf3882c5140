/** What a walk through the project's schema needs to know of it, whatever library made it. */
export interface SchemaShape {
  readonly _zod: {
    readonly def: {
      readonly type: string;
      readonly shape?: Readonly<Record<string, SchemaShape>>;
      readonly options?: readonly SchemaShape[];
      readonly discriminator?: string;
      readonly innerType?: SchemaShape;
      readonly element?: SchemaShape;
      readonly values?: readonly unknown[];
      readonly entries?: Readonly<Record<string, string>>;
    };
  };
}
