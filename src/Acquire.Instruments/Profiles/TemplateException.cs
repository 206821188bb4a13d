namespace Acquire.Instruments.Profiles;

/// <summary>A line template that cannot be understood or could be read in two ways. The message says where and what was expected.</summary>
/// <param name="template">The template as written.</param>
/// <param name="position">The first character concerned, counted from 1.</param>
/// <param name="problem">What is wrong and what was expected.</param>
public sealed class TemplateException(string template, int position, string problem)
    : Exception($"Template '{template}', character {position}: {problem}")
{
    /// <summary>The first character concerned, counted from 1.</summary>
    public int Position { get; } = position;
}
