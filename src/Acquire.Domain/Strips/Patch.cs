namespace Acquire.Domain.Strips;

/// <summary>One named field on a strip.</summary>
public sealed record Patch
{
    /// <summary>Names a patch.</summary>
    /// <exception cref="ImpossibleValueException">Key or name is empty, or the key has blanks.</exception>
    public Patch(string key, string name)
    {
        Key = Guard.Text(key, "The key of a patch");
        Name = Guard.Text(name, "The name of a patch");
        if (Key.Any(char.IsWhiteSpace))
        {
            throw new ImpossibleValueException($"The key of a patch has no blanks; '{Key}' has.");
        }
    }

    /// <summary>The short word used in files and commands, such as <c>ld</c>.</summary>
    public string Key { get; }

    /// <summary>The trade's name, such as <c>LD</c>.</summary>
    public string Name { get; }
}
