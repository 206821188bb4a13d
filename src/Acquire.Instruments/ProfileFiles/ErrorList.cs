using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Gathers what is wrong with one file.</summary>
internal sealed class ErrorList(string file, JsonPlaces places)
{
    private readonly List<ProfileError> _errors = [];

    public void Add(string pointer, string message)
    {
        var (line, column) = places.Of(pointer);
        _errors.Add(new ProfileError(file, line, column, message));
    }

    /// <summary>Throws when anything was gathered.</summary>
    /// <exception cref="ProfileException">Anything was.</exception>
    public void ThrowIfAny()
    {
        if (_errors.Count > 0)
        {
            throw new ProfileException([.. _errors.Distinct().OrderBy(e => (e.Line, e.Column)).ToImmutableArray()]);
        }
    }
}
