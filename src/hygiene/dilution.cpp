#include "hygiene/dilution.h"

namespace warmside::hygiene {

Result<Dilution> dilute(Percentage stock, Percentage target, Volume volume) {
  const auto refuse = [](const char* field, const char* what, const char* expected) {
    return Problem{ProblemCode::out_of_range, what, {"", 0, field}, expected, ""};
  };
  if (!(stock.share() > 0) || stock.share() > 1) {
    return refuse("stock", "not a strength that a stock can have", "more than 0% and at most 100%");
  }
  if (!(target.share() > 0)) {
    return refuse("target", "a mixture without active ingredient", "more than 0%");
  }
  if (target > stock) {
    return refuse("target", "water cannot make it stronger than the stock",
                  "at most the strength of the stock");
  }
  if (!(volume > Volume::litres(0))) return refuse("volume", "no volume", "more than 0mL");
  const Volume part = volume * (target / stock);
  return Dilution{part, volume - part};
}

}  // namespace warmside::hygiene
