namespace Acquire.Instruments.Learning;

/// <summary>What the shown values as a whole must be for a profile to be learned from them.</summary>
internal static class Shown
{
    /// <summary>The most decimals shown.</summary>
    public static int Decimals(LearningInput input) => Values(input).Max(v => v.Decimals);

    /// <summary>What is missing, in words; empty when nothing is.</summary>
    public static IEnumerable<string> Missing(LearningInput input)
    {
        var whole = input.Shown.Where(s => s.IsWhole).ToList();
        if (whole.DistinctBy(s => s.ToString()).Count() < 2)
        {
            yield return "Two readings of different patches are needed at least, each with a number in every channel; three are better.";
            yield break;
        }

        for (var i = 0; i < input.Channels.Length; i++)
        {
            for (var j = i + 1; j < input.Channels.Length; j++)
            {
                if (whole.All(s => s.Values[i]!.Value.Value == s.Values[j]!.Value.Value))
                {
                    yield return $"The display showed the same for {input.Channels[i].Word()} and {input.Channels[j].Word()} in every "
                        + "reading, "
                        + "so it cannot be known which is which. Read a patch on which they differ.";
                }
            }
        }
    }

    /// <summary>Whether the display showed over-range for every channel at once.</summary>
    public static bool HasAllBeyond(LearningInput input) => input.Shown.Any(s => s.Values.All(v => v is null));

    private static IEnumerable<Density> Values(LearningInput input) => input.Shown.SelectMany(s => s.Values).OfType<Density>();
}
