using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Drift;

public class SelfStartingTests
{
    /// <summary>In control the scores are standard normal from the third value on, whatever level and scatter are.</summary>
    [Fact]
    public void Scores_of_a_steady_process_are_standard_normal_however_short_the_history()
    {
        var random = new Random(3);
        var byPlace = new List<double>[6];
        for (var i = 0; i < byPlace.Length; i++)
        {
            byPlace[i] = [];
        }

        for (var trial = 0; trial < 20_000; trial++)
        {
            var state = SelfStarting.Begin(0);
            for (var i = 0; i < byPlace.Length; i++)
            {
                (state, var score) = state.Take(0.07 + (0.013 * random.Normal()));
                if (score is { } z)
                {
                    byPlace[i].Add(z);
                }
            }
        }

        Assert.Empty(byPlace[0]);
        Assert.Empty(byPlace[1]);
        Assert.All(byPlace[2..], scores =>
        {
            Assert.Equal(0, scores.Average(), 0.03);
            Assert.Equal(1, scores.Average(z => z * z), 0.04);
            Assert.Equal(0.0027, scores.Count(z => Math.Abs(z) > 3) / (double)scores.Count, 0.0012);
        });
    }

    /// <summary>
    /// The second value's score by hand: t = (x₂ − x₁)/(s √2), and with two degrees of freedom 1 − F(t) is in closed form.
    /// </summary>
    [Fact]
    [Trait("Source", "Student's t with two degrees of freedom in closed form: P(T > t) = 1/2 − t/(2 √(2 + t²))")]
    public void Score_turns_t_into_a_normal_number()
    {
        var (first, _) = SelfStarting.Begin(0.01).Take(0);
        var score = first.Take(0.05).Score!.Value;
        var t = 0.05 / (0.01 * Math.Sqrt(2));

        Assert.Equal(0.5 - (t / (2 * Math.Sqrt(2 + (t * t)))), MathNet.Numerics.Distributions.Normal.CDF(0, 1, -score), 1e-9);
    }

    [Fact]
    public void New_level_keeps_the_scatter_and_forgets_the_mean()
    {
        var state = SelfStarting.Begin(0);
        foreach (var value in new[] { 0.01, 0.03, 0.02, 0.04 })
        {
            state = state.Take(value).Next;
        }

        var next = state.NewLevel();

        Assert.Equal(state.Sigma, next.Sigma);
        Assert.Null(next.Take(1).Score);
    }

    [Fact]
    public void Scatter_is_never_taken_below_that_of_the_readings()
    {
        var state = SelfStarting.Begin(0.005);
        for (var i = 0; i < 20; i++)
        {
            state = state.Take(0.02).Next;
        }

        Assert.Equal(0.005, state.Sigma);
    }
}
