using Acquire.Analysis.Plausibility.Model;

namespace Acquire.Analysis.Plausibility.Hypotheses;

/// <summary>Weighs hypotheses against "the process did this" by their marginal likelihood. Keeps what it has worked out for a strip model.</summary>
internal sealed class HypothesisTest(StripModel model)
{
    private readonly Dictionary<(string, string), GaussianMixture?> _predictions = [];

    /// <summary>Logarithm of posterior odds; null when the hypothesis does not fit this strip.</summary>
    public double? Evidence(Hypothesis hypothesis, StripData data)
    {
        var process = Prediction("process", data, d => Explanation.Reads(d, model, cell => cell))!;
        var mistake = Prediction(hypothesis.Id, data, hypothesis.Explain);
        var evidence = mistake is null ? double.NaN : Math.Log(hypothesis.Prior) + mistake.LogDensity(data.Values) - process.LogDensity(data.Values);
        return double.IsNaN(evidence) ? null : Math.Clamp(evidence, -Most, Most);
    }

    // Values that neither side can explain give odds of infinity over infinity; far beyond any threshold anyway.
    private const double Most = 1e4;

    private GaussianMixture? Prediction(string id, StripData data, Func<StripData, Explanation?> explain)
    {
        if (!_predictions.TryGetValue((id, data.Key), out var prediction))
        {
            prediction = explain(data)?.Predict(model, data);
            _predictions.Add((id, data.Key), prediction);
        }

        return prediction;
    }
}
