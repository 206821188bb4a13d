namespace Acquire.Rendering.Monitoring;

/// <summary>What a line was taken for, in words.</summary>
internal static class MeaningWord
{
    public static string Of(LineMeaning meaning) => meaning switch
    {
        LineMeaning.Partial => "one channel of a reading",
        LineMeaning.OverRange => "over-range",
        LineMeaning.Unmatched => "fits nothing",
        _ => meaning.ToString().ToLowerInvariant(),
    };
}
