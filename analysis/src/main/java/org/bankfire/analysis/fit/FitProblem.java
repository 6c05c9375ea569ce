package org.bankfire.analysis.fit;

import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * What is to be fitted: parameters and a residual function over them.
 *
 * @param parameters at least one, of different names; their order is the order of the function's arguments
 * @param model the residual function
 */
public record FitProblem(List<FitParameter> parameters, ResidualModel model) {
    public FitProblem {
        parameters = List.copyOf(parameters);
        if (parameters.isEmpty()) {
            throw new IllegalArgumentException("a fit without parameters");
        }
        if (model.residualCount() < 1) {
            throw new IllegalArgumentException(
                    "a fit of " + model.residualCount() + " residuals: at least 1 is allowed");
        }
        Set<String> names = new HashSet<>();
        for (FitParameter parameter : parameters) {
            if (!names.add(parameter.name())) {
                throw new IllegalArgumentException("two parameters are called " + parameter.name());
            }
        }
    }

    int size() {
        return parameters.size();
    }

    int priorCount() {
        return (int) parameters.stream().filter(each -> each.prior() != null).count();
    }

    double[] starts() {
        return parameters.stream().mapToDouble(FitParameter::start).toArray();
    }
}
