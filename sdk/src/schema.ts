/** Made by `npm run generate` from the OpenAPI document; do not edit. */
export interface paths {
    "/v1/checks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Check a vehicle with its parts, load and use
         * @description Answers whether everything works together, by how much it misses, what work cures it and in which order, and what to measure next. Nothing is stored; the same request gives the same bytes.
         */
        post: operations["check"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/vehicles": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Vehicles of the catalogue */
        get: operations["listVehicles"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/vehicles/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One vehicle */
        get: operations["getVehicle"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Parts of the catalogue */
        get: operations["listParts"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One part */
        get: operations["getPart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/kinds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Kinds of part, with their attributes and how each is measured */
        get: operations["listKinds"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/kinds/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One kind */
        get: operations["getKind"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/quantities": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Quantities: what they mean, whose they are and how a person reads them */
        get: operations["listQuantities"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/quantities/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One quantity */
        get: operations["getQuantity"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/rules": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Rules: what must hold, why, and the work that cures it */
        get: operations["listRules"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/rules/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One rule */
        get: operations["getRule"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/works": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Works: hours, skills, effects and how each is verified */
        get: operations["listWorks"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/works/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One work */
        get: operations["getWork"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sources": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Documents that rules and models rest on */
        get: operations["listSources"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sources/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One source */
        get: operations["getSource"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/classes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Classes of vehicle, with the defaults that stand in for what is not known */
        get: operations["listClasses"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/classes/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One class */
        get: operations["getClass"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/livez": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The process runs */
        get: operations["live"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/readyz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The service can answer */
        get: operations["ready"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /** @description An error (RFC 9457), all its faults at once. */
        ProblemInput: {
            type: string;
            title: string;
            status: number;
            /** @enum {string} */
            code: "JSON_MALFORMED" | "JSON_DUPLICATE_KEY" | "REQUEST_INVALID" | "BUILD_INVALID" | "KEY_MISSING" | "KEY_UNKNOWN" | "NOT_FOUND" | "METHOD_WRONG" | "BODY_TOO_LARGE" | "CONTENT_TYPE_WRONG" | "TOO_MANY_REQUESTS" | "INTERNAL" | "UNAVAILABLE";
            detail: string;
            faults: {
                /** @description RFC 6901 */
                pointer: string;
                code: string;
                message: string;
                help: string;
            }[];
            request_id?: string;
        };
        /** @description A quantity with its unit ("2.5 in ± 0.1"), a text, a truth, or a plain count. A bare number is refused where a unit is needed. */
        ValueInput: string | boolean | number;
        /** @description A measured value with when, with what and by whom it was taken. */
        ReadingInput: {
            value: components["schemas"]["ValueInput"];
            date?: string;
            tool?: string;
            by?: string;
            note?: string;
        };
        VehicleReadingInput: {
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["ValueInput"];
            date?: string;
            tool?: string;
            by?: string;
            note?: string;
        };
        /**
         * @description A corner part at `front` is a pair; at `all` it is four.
         * @enum {string}
         */
        PlaceInputInput: "vehicle" | "front" | "rear" | "front-left" | "front-right" | "rear-left" | "rear-right" | "all";
        PartFromCatalogueInput: {
            /** @constant */
            from: "catalogue";
            part: string;
            version?: number;
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInputInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["ValueInput"] | components["schemas"]["ReadingInput"];
            };
        };
        PartInlineInput: {
            /** @constant */
            from: "inline";
            kind: string;
            name?: string;
            attributes?: {
                [key: string]: components["schemas"]["ValueInput"];
            };
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInputInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["ValueInput"] | components["schemas"]["ReadingInput"];
            };
        };
        PartInputInput: components["schemas"]["PartFromCatalogueInput"] | components["schemas"]["PartInlineInput"];
        VehicleFromCatalogueInput: {
            /** @constant */
            from: "catalogue";
            vehicle: string;
            version?: number;
            measured?: components["schemas"]["VehicleReadingInput"][];
        };
        VehicleInlineInput: {
            /** @constant */
            from: "inline";
            name?: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["ValueInput"] | {
                    [key: string]: components["schemas"]["ValueInput"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInputInput"][];
            measured?: components["schemas"]["VehicleReadingInput"][];
        };
        VehicleInputInput: components["schemas"]["VehicleFromCatalogueInput"] | components["schemas"]["VehicleInlineInput"];
        LoadItemInput: {
            name: string;
            mass: string;
            /** @description Towards the rear; negative is ahead of the front axle. */
            behind_front_axle: string;
            height?: string;
        };
        CheckRequestInput: {
            vehicle: components["schemas"]["VehicleInputInput"];
            parts?: components["schemas"]["PartInputInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItemInput"][];
            };
            use?: {
                top_speed?: string;
            };
            /** @enum {string} */
            units?: "metric" | "us";
            /**
             * @description Which of the value graph to answer with.
             * @enum {string}
             */
            values?: "used" | "all";
        };
        CatalogueVehicleInput: {
            id: string;
            version: number;
            name: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["ValueInput"] | {
                    [key: string]: components["schemas"]["ValueInput"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInputInput"][];
            maker?: string;
            note?: string;
        };
        CataloguePartInput: {
            id: string;
            version: number;
            kind: string;
            name: string;
            maker?: string;
            attributes: {
                [key: string]: components["schemas"]["ValueInput"];
            };
            note?: string;
        };
        /**
         * @description Worst first. `close`: the measurements there are cannot decide it. `unknown`: a measurement is missing.
         * @enum {string}
         */
        VerdictInput: "conflict" | "unknown" | "close" | "clear";
        AmountInput: {
            value: number;
            unit: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
        };
        WorkAmountInput: {
            /** @description Enough at the worse end of the tolerances. */
            value: number;
            /** @description What the nominal values ask for. */
            nominal: number;
            unit: string;
        };
        /** @description Signed: negative fails. Rounded towards the worse side. */
        MarginInput: {
            value: number;
            unit: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            low: number | null;
            high: number | null;
            /** @enum {string} */
            low_is: "proven" | "searched";
            /** @enum {string} */
            high_is: "proven" | "searched";
        };
        OriginInput: {
            /** @description measured, catalogue, stated, computed, class-default, typical, rule, work, unknown; more may come. */
            kind: string;
            note?: string;
            source?: string;
            date?: string;
            tool?: string;
            by?: string;
        };
        AnswerPartInput: {
            id: string;
            kind: string;
            name: string;
            at: string;
        };
        BasisInput: {
            kind: string;
            source?: string;
            title: string;
            clause?: string;
            /** @enum {string} */
            read?: "seen" | "second-hand" | "memory";
            note?: string;
        };
        AnswerNumberInput: {
            name: string;
            title: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: string;
            id?: string;
        };
        WorkCallInput: {
            work: string;
            title: string;
            amounts: {
                [key: string]: components["schemas"]["WorkAmountInput"];
            };
            step: string;
        };
        FindingInput: {
            id: string;
            rule: string;
            title: string;
            /** @description safety, damage, legal, comfort; more may come. */
            hazard: string;
            verdict: components["schemas"]["VerdictInput"];
            /** @description The vehicle stands so already, and the planned parts change nothing of it. Unless a conflict, it does not count in the verdict. */
            as_before: boolean;
            margin: components["schemas"]["MarginInput"] | null;
            subject: string;
            parts: components["schemas"]["AnswerPartInput"][];
            says: string;
            numbers: components["schemas"]["AnswerNumberInput"][];
            doubt: {
                id: string;
                share: number;
            }[];
            missing: string[];
            work: components["schemas"]["WorkCallInput"][];
            basis: components["schemas"]["BasisInput"][];
            cautions: string[];
        };
        HoursInput: {
            low: number;
            likely: number;
            high: number;
            /** @constant */
            unit: "h";
        };
        StepInput: {
            id: string;
            work: string;
            title: string;
            parts: components["schemas"]["AnswerPartInput"][];
            amounts: {
                [key: string]: components["schemas"]["WorkAmountInput"];
            };
            skills: string[];
            hours: components["schemas"]["HoursInput"];
            tools: string[];
            irreversible: boolean;
            /** @description Only to be done if measuring shows that it is needed. */
            contingent: boolean;
            because: string[];
            after: {
                step: string;
                why: string;
            }[];
            prerequisites: string[];
            verify: {
                check: string;
                accept: string;
            } | null;
            cautions: string[];
        };
        ToMeasureInput: {
            ids: string[];
            quantity: string;
            title: string;
            subject: string;
            why: string;
            findings: string[];
            how: string;
            tool: string;
            where?: string;
            suspension?: string;
            steering?: string;
            accuracy?: components["schemas"]["AmountInput"];
            minutes?: number;
            cautions: string[];
        };
        AnswerValueInput: {
            name: string;
            title: string;
            subject: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: components["schemas"]["OriginInput"];
            from: string[];
        };
        AnswerInput: {
            verdict: components["schemas"]["VerdictInput"];
            summary: string;
            checked: {
                rules: number;
                applied: number;
                not_applicable: number;
                conflict: number;
                unknown: number;
                close: number;
                clear: number;
                as_before: number;
            };
            findings: components["schemas"]["FindingInput"][];
            work: {
                steps: components["schemas"]["StepInput"][];
                hours: components["schemas"]["HoursInput"];
            };
            after_work: {
                verdict: components["schemas"]["VerdictInput"];
                rounds: number;
                cleared: string[];
                broken: components["schemas"]["FindingInput"][];
                remaining: {
                    id: string;
                    verdict: components["schemas"]["VerdictInput"];
                    says: string;
                }[];
            };
            measure: components["schemas"]["ToMeasureInput"][];
            assumptions: string[];
            values: {
                [key: string]: components["schemas"]["AnswerValueInput"];
            };
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
        };
        KindInput: {
            id: string;
            title: string;
            is?: string;
            fits: string;
            abstract: boolean;
            one_per_place: boolean;
            frame: string;
            bridges_to?: string;
            attributes: {
                name: string;
                title: string;
                /** @description number, truth or text */
                type: string;
                unit?: string;
                one_of?: string[];
                meaning: string;
                typical?: string;
                measure?: {
                    how: string;
                    tool: string;
                    where?: string;
                    suspension?: string;
                    steering?: string;
                    accuracy?: string;
                    minutes?: number;
                    cautions: string[];
                };
                /** @description The kind that declares it. */
                from: string;
            }[];
        };
        QuantityInput: {
            name: string;
            title: string;
            /** @description number, truth or text */
            type: string;
            unit?: string;
            one_of?: string[];
            meaning: string;
            typical?: string;
            measure?: {
                how: string;
                tool: string;
                where?: string;
                suspension?: string;
                steering?: string;
                accuracy?: string;
                minutes?: number;
                cautions: string[];
            };
            per: string[];
            comes: string;
        };
        RuleInput: {
            id: string;
            area: string;
            title: string;
            hazard: string;
            ranges_over: string[];
            requires: string;
            says: string;
            works: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                note?: string;
            }[];
            cautions: string[];
            note?: string;
            examples: number;
        };
        WorkInput: {
            id: string;
            title: string;
            takes: {
                name: string;
                type: string;
                unit?: string;
                meaning?: string;
            }[];
            skills: string[];
            hours: {
                low: number;
                likely: number;
                high: number;
                /** @constant */
                unit: "h";
            };
            tools: string[];
            irreversible: boolean;
            prerequisites: string[];
            after: string[];
            then: string[];
            effects: string[];
            verify: {
                check: string;
                accept: string;
            } | null;
            cautions: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                note?: string;
            }[];
        };
        SourceInput: {
            id: string;
            title: string;
            kind: string;
            read: string;
            clause?: string;
            edition?: string;
        };
        VehicleClassInput: {
            id: string;
            title: string;
            note?: string;
            values: {
                [key: string]: {
                    [key: string]: string;
                };
            };
            positions: {
                kind: string;
                at: string;
            }[];
            fitted: {
                id: string;
                kind: string;
                name?: string;
                at?: string;
                attributes: {
                    [key: string]: string;
                };
            }[];
        };
        /** @description An error (RFC 9457), all its faults at once. */
        Problem: {
            type: string;
            title: string;
            status: number;
            /** @enum {string} */
            code: "JSON_MALFORMED" | "JSON_DUPLICATE_KEY" | "REQUEST_INVALID" | "BUILD_INVALID" | "KEY_MISSING" | "KEY_UNKNOWN" | "NOT_FOUND" | "METHOD_WRONG" | "BODY_TOO_LARGE" | "CONTENT_TYPE_WRONG" | "TOO_MANY_REQUESTS" | "INTERNAL" | "UNAVAILABLE";
            detail: string;
            faults: {
                /** @description RFC 6901 */
                pointer: string;
                code: string;
                message: string;
                help: string;
            }[];
            request_id?: string;
        };
        /** @description A quantity with its unit ("2.5 in ± 0.1"), a text, a truth, or a plain count. A bare number is refused where a unit is needed. */
        Value: string | boolean | number;
        /** @description A measured value with when, with what and by whom it was taken. */
        Reading: {
            value: components["schemas"]["Value"];
            date?: string;
            tool?: string;
            by?: string;
            note?: string;
        };
        VehicleReading: {
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["Value"];
            date?: string;
            tool?: string;
            by?: string;
            note?: string;
        };
        /**
         * @description A corner part at `front` is a pair; at `all` it is four.
         * @enum {string}
         */
        PlaceInput: "vehicle" | "front" | "rear" | "front-left" | "front-right" | "rear-left" | "rear-right" | "all";
        PartFromCatalogue: {
            /** @constant */
            from: "catalogue";
            part: string;
            version?: number;
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["Value"] | components["schemas"]["Reading"];
            };
        };
        PartInline: {
            /** @constant */
            from: "inline";
            kind: string;
            name?: string;
            attributes?: {
                [key: string]: components["schemas"]["Value"];
            };
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["Value"] | components["schemas"]["Reading"];
            };
        };
        PartInput: components["schemas"]["PartFromCatalogue"] | components["schemas"]["PartInline"];
        VehicleFromCatalogue: {
            /** @constant */
            from: "catalogue";
            vehicle: string;
            version?: number;
            measured?: components["schemas"]["VehicleReading"][];
        };
        VehicleInline: {
            /** @constant */
            from: "inline";
            name?: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            measured?: components["schemas"]["VehicleReading"][];
        };
        VehicleInput: components["schemas"]["VehicleFromCatalogue"] | components["schemas"]["VehicleInline"];
        LoadItem: {
            name: string;
            mass: string;
            /** @description Towards the rear; negative is ahead of the front axle. */
            behind_front_axle: string;
            height?: string;
        };
        CheckRequest: {
            vehicle: components["schemas"]["VehicleInput"];
            parts?: components["schemas"]["PartInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItem"][];
            };
            use?: {
                top_speed?: string;
            };
            /** @enum {string} */
            units?: "metric" | "us";
            /**
             * @description Which of the value graph to answer with.
             * @enum {string}
             */
            values?: "used" | "all";
        };
        CatalogueVehicle: {
            id: string;
            version: number;
            name: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            maker?: string;
            note?: string;
        };
        CataloguePart: {
            id: string;
            version: number;
            kind: string;
            name: string;
            maker?: string;
            attributes: {
                [key: string]: components["schemas"]["Value"];
            };
            note?: string;
        };
        /**
         * @description Worst first. `close`: the measurements there are cannot decide it. `unknown`: a measurement is missing.
         * @enum {string}
         */
        Verdict: "conflict" | "unknown" | "close" | "clear";
        Amount: {
            value: number;
            unit: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
        };
        WorkAmount: {
            /** @description Enough at the worse end of the tolerances. */
            value: number;
            /** @description What the nominal values ask for. */
            nominal: number;
            unit: string;
        };
        /** @description Signed: negative fails. Rounded towards the worse side. */
        Margin: {
            value: number;
            unit: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            low: number | null;
            high: number | null;
            /** @enum {string} */
            low_is: "proven" | "searched";
            /** @enum {string} */
            high_is: "proven" | "searched";
        };
        Origin: {
            /** @description measured, catalogue, stated, computed, class-default, typical, rule, work, unknown; more may come. */
            kind: string;
            note?: string;
            source?: string;
            date?: string;
            tool?: string;
            by?: string;
        };
        AnswerPart: {
            id: string;
            kind: string;
            name: string;
            at: string;
        };
        Basis: {
            kind: string;
            source?: string;
            title: string;
            clause?: string;
            /** @enum {string} */
            read?: "seen" | "second-hand" | "memory";
            note?: string;
        };
        AnswerNumber: {
            name: string;
            title: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: string;
            id?: string;
        };
        WorkCall: {
            work: string;
            title: string;
            amounts: {
                [key: string]: components["schemas"]["WorkAmount"];
            };
            step: string;
        };
        Finding: {
            id: string;
            rule: string;
            title: string;
            /** @description safety, damage, legal, comfort; more may come. */
            hazard: string;
            verdict: components["schemas"]["Verdict"];
            /** @description The vehicle stands so already, and the planned parts change nothing of it. Unless a conflict, it does not count in the verdict. */
            as_before: boolean;
            margin: components["schemas"]["Margin"] | null;
            subject: string;
            parts: components["schemas"]["AnswerPart"][];
            says: string;
            numbers: components["schemas"]["AnswerNumber"][];
            doubt: {
                id: string;
                share: number;
            }[];
            missing: string[];
            work: components["schemas"]["WorkCall"][];
            basis: components["schemas"]["Basis"][];
            cautions: string[];
        };
        Hours: {
            low: number;
            likely: number;
            high: number;
            /** @constant */
            unit: "h";
        };
        Step: {
            id: string;
            work: string;
            title: string;
            parts: components["schemas"]["AnswerPart"][];
            amounts: {
                [key: string]: components["schemas"]["WorkAmount"];
            };
            skills: string[];
            hours: components["schemas"]["Hours"];
            tools: string[];
            irreversible: boolean;
            /** @description Only to be done if measuring shows that it is needed. */
            contingent: boolean;
            because: string[];
            after: {
                step: string;
                why: string;
            }[];
            prerequisites: string[];
            verify: {
                check: string;
                accept: string;
            } | null;
            cautions: string[];
        };
        ToMeasure: {
            ids: string[];
            quantity: string;
            title: string;
            subject: string;
            why: string;
            findings: string[];
            how: string;
            tool: string;
            where?: string;
            suspension?: string;
            steering?: string;
            accuracy?: components["schemas"]["Amount"];
            minutes?: number;
            cautions: string[];
        };
        AnswerValue: {
            name: string;
            title: string;
            subject: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: components["schemas"]["Origin"];
            from: string[];
        };
        Answer: {
            verdict: components["schemas"]["Verdict"];
            summary: string;
            checked: {
                rules: number;
                applied: number;
                not_applicable: number;
                conflict: number;
                unknown: number;
                close: number;
                clear: number;
                as_before: number;
            };
            findings: components["schemas"]["Finding"][];
            work: {
                steps: components["schemas"]["Step"][];
                hours: components["schemas"]["Hours"];
            };
            after_work: {
                verdict: components["schemas"]["Verdict"];
                rounds: number;
                cleared: string[];
                broken: components["schemas"]["Finding"][];
                remaining: {
                    id: string;
                    verdict: components["schemas"]["Verdict"];
                    says: string;
                }[];
            };
            measure: components["schemas"]["ToMeasure"][];
            assumptions: string[];
            values: {
                [key: string]: components["schemas"]["AnswerValue"];
            };
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
        };
        Kind: {
            id: string;
            title: string;
            is?: string;
            fits: string;
            abstract: boolean;
            one_per_place: boolean;
            frame: string;
            bridges_to?: string;
            attributes: {
                name: string;
                title: string;
                /** @description number, truth or text */
                type: string;
                unit?: string;
                one_of?: string[];
                meaning: string;
                typical?: string;
                measure?: {
                    how: string;
                    tool: string;
                    where?: string;
                    suspension?: string;
                    steering?: string;
                    accuracy?: string;
                    minutes?: number;
                    cautions: string[];
                };
                /** @description The kind that declares it. */
                from: string;
            }[];
        };
        Quantity: {
            name: string;
            title: string;
            /** @description number, truth or text */
            type: string;
            unit?: string;
            one_of?: string[];
            meaning: string;
            typical?: string;
            measure?: {
                how: string;
                tool: string;
                where?: string;
                suspension?: string;
                steering?: string;
                accuracy?: string;
                minutes?: number;
                cautions: string[];
            };
            per: string[];
            comes: string;
        };
        Rule: {
            id: string;
            area: string;
            title: string;
            hazard: string;
            ranges_over: string[];
            requires: string;
            says: string;
            works: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                note?: string;
            }[];
            cautions: string[];
            note?: string;
            examples: number;
        };
        Work: {
            id: string;
            title: string;
            takes: {
                name: string;
                type: string;
                unit?: string;
                meaning?: string;
            }[];
            skills: string[];
            hours: {
                low: number;
                likely: number;
                high: number;
                /** @constant */
                unit: "h";
            };
            tools: string[];
            irreversible: boolean;
            prerequisites: string[];
            after: string[];
            then: string[];
            effects: string[];
            verify: {
                check: string;
                accept: string;
            } | null;
            cautions: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                note?: string;
            }[];
        };
        Source: {
            id: string;
            title: string;
            kind: string;
            read: string;
            clause?: string;
            edition?: string;
        };
        VehicleClass: {
            id: string;
            title: string;
            note?: string;
            values: {
                [key: string]: {
                    [key: string]: string;
                };
            };
            positions: {
                kind: string;
                at: string;
            }[];
            fitted: {
                id: string;
                kind: string;
                name?: string;
                at?: string;
                attributes: {
                    [key: string]: string;
                };
            }[];
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    check: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CheckRequestInput"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Answer"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listVehicles: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
                /** @description Part of an id or a name. */
                search?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["CatalogueVehicle"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getVehicle: {
        parameters: {
            query?: {
                version?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CatalogueVehicle"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listParts: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
                /** @description Part of an id or a name. */
                search?: string;
                kind?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["CataloguePart"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getPart: {
        parameters: {
            query?: {
                version?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CataloguePart"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listKinds: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Kind"][];
                    };
                };
            };
        };
    };
    getKind: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Kind"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listQuantities: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Quantity"][];
                    };
                };
            };
        };
    };
    getQuantity: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Quantity"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRules: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Rule"][];
                    };
                };
            };
        };
    };
    getRule: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Rule"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listWorks: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Work"][];
                    };
                };
            };
        };
    };
    getWork: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Work"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSources: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Source"][];
                    };
                };
            };
        };
    };
    getSource: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Source"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listClasses: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["VehicleClass"][];
                    };
                };
            };
        };
    };
    getClass: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["VehicleClass"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    live: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @enum {string} */
                        state: "ok";
                    };
                };
            };
        };
    };
    ready: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @enum {string} */
                        state: "ok";
                    };
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
}
