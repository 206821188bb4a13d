namespace Acquire.Rendering.Monitoring;

/// <summary>What a line was taken for, in the one word that scripts rely on.</summary>
internal static class StateWord
{
    public static string Of(LineMeaning meaning) => meaning == LineMeaning.OverRange ? "over-range" : meaning.ToString().ToLowerInvariant();
}
