using System.Text.Json;

namespace Acquire.Analysis.ProcessSheets;

/// <summary>
/// Takes values out of spots and gathers what is wrong with them, so that the user sees every problem of a file at once.
/// A value that is wrong comes out as null; nothing made of it is used, for <see cref="ThrowIfAny"/> comes first.
/// </summary>
internal sealed class SpotProblems(string fileName)
{
    private readonly List<string> _problems = [];

    public void Add(JsonSpot spot, string problem) =>
        _problems.Add($"{fileName}, line {spot.Line}, column {spot.Column}, {spot.Path}: {problem}");

    public void ThrowIfAny()
    {
        if (_problems.Count > 0)
        {
            throw new ProcessSheetException([.. _problems]);
        }
    }

    /// <summary>Whether a spot is an object that has only these members, each once.</summary>
    public bool IsObject(JsonSpot spot, params ReadOnlySpan<string> members)
    {
        if (spot.Kind != JsonTokenType.StartObject)
        {
            Add(spot, $"expected an object with {string.Join(", ", members)}, found {spot.Word}.");
            return false;
        }

        var seen = new HashSet<string>();
        foreach (var (name, member) in spot.Members)
        {
            if (!members.Contains(name))
            {
                Add(member, $"'{name}' is not known here; expected {string.Join(", ", members)}.");
            }
            else if (!seen.Add(name))
            {
                Add(member, $"'{name}' is given twice.");
            }
        }

        return true;
    }

    public string? Text(JsonSpot spot, string name)
    {
        var text = OptionalText(spot, name);
        if (spot.Member(name) is null)
        {
            Add(spot, $"'{name}' is missing; expected a text.");
        }

        return text;
    }

    public string? OptionalText(JsonSpot spot, string name) => Optional(spot, name, JsonTokenType.String, "a text")?.Value as string;

    public double? OptionalNumber(JsonSpot spot, string name) => Optional(spot, name, JsonTokenType.Number, "a number")?.Value as double?;

    /// <summary>A text that may be null, as in a sheet whose limits are still to be filled in.</summary>
    public string? NullableText(JsonSpot spot, string name) => IsNull(spot, name) ? null : OptionalText(spot, name);

    /// <summary>A number that may be null.</summary>
    public double? NullableNumber(JsonSpot spot, string name) => IsNull(spot, name) ? null : OptionalNumber(spot, name);

    public double? Number(JsonSpot spot, string name)
    {
        if (spot.Member(name) is null)
        {
            Add(spot, $"'{name}' is missing; expected a number.");
        }

        return OptionalNumber(spot, name);
    }

    /// <summary>The item of a list that a text names, in any case; <paramref name="usual"/> when the text is not given.</summary>
    public T OneOf<T>(JsonSpot spot, string name, T usual, string what, params ReadOnlySpan<(string Word, T Value)> choices)
    {
        if (OptionalText(spot, name) is not { } text)
        {
            return usual;
        }

        List<string> words = [];
        foreach (var (word, value) in choices)
        {
            if (string.Equals(word, text, StringComparison.OrdinalIgnoreCase))
            {
                return value;
            }

            words.Add(word);
        }

        Add(spot.Member(name)!, $"'{text}' is no {what}; expected {string.Join(", ", words.SkipLast(1))} or {words[^1]}.");
        return usual;
    }

    public IReadOnlyList<JsonSpot> Items(JsonSpot spot, string name)
    {
        if (spot.Member(name) is null)
        {
            Add(spot, $"'{name}' is missing; expected a list.");
        }

        return Optional(spot, name, JsonTokenType.StartArray, "a list")?.Items ?? [];
    }

    /// <summary>Makes something of the parts of a spot; what the domain refuses is a problem at that spot.</summary>
    public T? Make<T>(JsonSpot spot, Func<T?> make)
        where T : class
    {
        // With a problem already found the parts may be null, and the domain would complain of that once more.
        if (_problems.Count > 0)
        {
            return null;
        }

        try
        {
            return make();
        }
        catch (ImpossibleValueException refusal)
        {
            Add(spot, refusal.Message);
            return null;
        }
    }

    private static bool IsNull(JsonSpot spot, string name) => spot.Member(name) is { Kind: JsonTokenType.Null };

    private JsonSpot? Optional(JsonSpot spot, string name, JsonTokenType kind, string expected)
    {
        var member = spot.Member(name);
        if (member is null || member.Kind == kind)
        {
            return member;
        }

        Add(member, $"expected {expected}, found {member.Word}.");
        return null;
    }
}
