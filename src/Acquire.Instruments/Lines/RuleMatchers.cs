using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>The rules of a profile, compiled.</summary>
internal static class RuleMatchers
{
    /// <summary>Compiles all rules in order.</summary>
    /// <exception cref="ArgumentException">A rule has neither template nor pattern, or its pattern is no regular expression.</exception>
    public static ImmutableArray<ILineMatcher> Compile(DeviceProfile profile) =>
        [.. profile.Rules.Select(r => Compile(r, profile.Number))];

    private static ILineMatcher Compile(LineRule rule, NumberFormat number) => rule switch
    {
        { Template: { } template } => new TemplateMatcher(template, number),
        { Pattern: { } pattern } => new PatternMatcher(pattern, number),
        _ => throw new ArgumentException("A line rule needs a template or a pattern.", nameof(rule)),
    };
}
