package org.bankfire.dashboard.testing;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;

/** Holds a JSON value to a schema of an OpenAPI document: type, properties, items, enum, oneOf and $ref. */
public final class Schema {
    private final JsonNode document;

    /** Schemas of {@code document}. */
    public Schema(JsonNode document) {
        this.document = document;
    }

    /** Where and how {@code value} departs from {@code schema}; empty when it does not. */
    public List<String> faults(JsonNode schema, JsonNode value) {
        List<String> faults = new ArrayList<>();
        check(schema, value, "$", faults);
        return faults;
    }

    private void check(JsonNode schema, JsonNode value, String at, List<String> faults) {
        if (schema.has("$ref")) {
            String pointer = schema.get("$ref").textValue().substring(1);
            JsonNode target = document.at(pointer);
            if (target.isMissingNode()) {
                faults.add(at + ": the schema " + pointer + " does not exist");
            } else {
                check(target, value, at, faults);
            }
            return;
        }
        if (schema.has("oneOf")) {
            checkOneOf(schema.get("oneOf"), value, at, faults);
            return;
        }
        if (!hasType(schema.path("type"), value)) {
            faults.add(at + ": is " + value.getNodeType() + ", not " + schema.path("type"));
            return;
        }
        if (schema.has("enum") && !contains(schema.get("enum"), value)) {
            faults.add(at + ": " + value + " is not one of " + schema.get("enum"));
        }
        if (value.isObject()) {
            checkObject(schema, value, at, faults);
        } else if (value.isArray() && schema.has("items")) {
            for (int i = 0; i < value.size(); i++) {
                check(schema.get("items"), value.get(i), at + "[" + i + "]", faults);
            }
        }
    }

    private void checkOneOf(JsonNode choices, JsonNode value, String at, List<String> faults) {
        List<String> closest = List.of(at + ": no choice fits");
        for (JsonNode choice : choices) {
            List<String> here = new ArrayList<>();
            check(choice, value, at, here);
            if (here.isEmpty()) {
                return;
            }
            closest = here;
        }
        faults.addAll(closest);
    }

    private void checkObject(JsonNode schema, JsonNode value, String at, List<String> faults) {
        for (JsonNode name : schema.path("required")) {
            if (!value.has(name.textValue())) {
                faults.add(at + ": lacks " + name.textValue());
            }
        }
        JsonNode properties = schema.path("properties");
        value.fieldNames().forEachRemaining(name -> {
            if (properties.has(name)) {
                check(properties.get(name), value.get(name), at + "." + name, faults);
            } else if (schema.has("additionalProperties")) {
                faults.add(at + ": has " + name + ", which the schema does not know");
            }
        });
    }

    private static boolean contains(JsonNode values, JsonNode value) {
        for (JsonNode allowed : values) {
            if (allowed.equals(value)) {
                return true;
            }
        }
        return false;
    }

    private static boolean hasType(JsonNode type, JsonNode value) {
        if (type.isArray()) {
            for (JsonNode one : type) {
                if (hasType(one, value)) {
                    return true;
                }
            }
            return false;
        }
        return switch (type.asText()) {
            case "object" -> value.isObject();
            case "array" -> value.isArray();
            case "string" -> value.isTextual();
            case "number" -> value.isNumber();
            case "integer" -> value.isIntegralNumber();
            case "boolean" -> value.isBoolean();
            case "null" -> value.isNull();
            default -> false;
        };
    }
}
