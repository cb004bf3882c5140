/** Fields one after the other, parts inside a section under their own heading; lists as whoever shows the form has them. */
import type { ComponentType } from "react";
import { ChoiceField, type FieldHelp, NumberField, TextField } from "./Fields";
import type { FormItem, ListItem } from "./formTree";

export interface FormItemsProps {
  readonly items: readonly FormItem[];
  readonly section: string;
  readonly onHelp: (help: FieldHelp | null) => void;
  /** How a list is shown; left out, lists are not. */
  readonly list?: ComponentType<ListFieldsProps>;
}

export interface ListFieldsProps extends Pick<FormItemsProps, "section" | "onHelp"> {
  readonly item: ListItem;
}

export function FormItems({ items, section, onHelp, list: List }: FormItemsProps) {
  return items.map((item) => {
    const key = item.path.join(".") + item.kind + (item.kind === "choice" ? item.of : "");
    switch (item.kind) {
      case "number":
        return <NumberField key={key} item={item} section={section} onHelp={onHelp} />;
      case "text":
        return <TextField key={key} item={item} section={section} onHelp={onHelp} />;
      case "choice":
        return <ChoiceField key={key} item={item} section={section} onHelp={onHelp} />;
      case "group": {
        const name = `${section}, ${item.label}`;
        const inner = List === undefined ? {} : { list: List };
        return (
          <fieldset key={key} className="form-group">
            <legend>{item.label}</legend>
            <FormItems items={item.items} section={name} onHelp={onHelp} {...inner} />
          </fieldset>
        );
      }
      default:
        if (List === undefined) return null;
        return <List key={key} item={item} section={section} onHelp={onHelp} />;
    }
  });
}
