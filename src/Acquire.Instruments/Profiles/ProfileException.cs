namespace Acquire.Instruments.Profiles;

/// <summary>One thing wrong with a profile.</summary>
/// <param name="File">The file as the user named it.</param>
/// <param name="Line">The line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Column">The character in the line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Message">What is wrong and what was expected.</param>
public sealed record ProfileError(string File, int Line, int Column, string Message)
{
    /// <summary>For example <c>mine.json:3:14: …</c>.</summary>
    public override string ToString() =>
        Line > 0 ? string.Create(CultureInfo.InvariantCulture, $"{File}:{Line}:{Column}: {Message}") : $"{File}: {Message}";
}

/// <summary>A profile that cannot be used, with everything that is wrong with it, in the order of the file.</summary>
public sealed class ProfileException(ImmutableArray<ProfileError> errors)
    : Exception(string.Join(Environment.NewLine, errors.Select(e => e.ToString())))
{
    /// <summary>All errors; at least one.</summary>
    public ImmutableArray<ProfileError> Errors { get; } = errors;
}
