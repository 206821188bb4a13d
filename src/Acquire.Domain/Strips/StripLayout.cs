namespace Acquire.Domain.Strips;

/// <summary>The patches of a strip type, in the order in which they are read.</summary>
public sealed record StripLayout
{
    /// <exception cref="ImpossibleValueException">No name, no patches, or two patches of one key or name.</exception>
    public StripLayout(string name, ImmutableArray<Patch> patches)
    {
        Name = Guard.Text(name, "The name of a strip layout");
        Patches = Guard.NotEmpty(patches, $"The patches of the strip layout '{Name}'");
        Guard.Unique(Patches, p => p.Key, "The patch key");
        Guard.Unique(Patches, p => p.Name, "The patch name");
    }

    public string Name { get; }

    /// <summary>The patches in reading order.</summary>
    public ImmutableArray<Patch> Patches { get; }

    /// <summary>Finds a patch by key or name, in any case; null when the layout has none.</summary>
    // Keys first: the name of one patch may be the key of another.
    public Patch? Find(string keyOrName) =>
        Patches.FirstOrDefault(p => Keys.Same(p.Key, keyOrName)) ?? Patches.FirstOrDefault(p => Keys.Same(p.Name, keyOrName));

    /// <exception cref="ImpossibleValueException">The layout has no such patch; the message lists those it has.</exception>
    public Patch Get(string keyOrName) => Find(keyOrName) ?? throw Lacks(keyOrName);

    /// <summary>Finds a patch by its key alone, for what refers to patches by key: a
    /// name would pass here and then be looked up in vain.</summary>
    /// <exception cref="ImpossibleValueException">No patch has this key; the message lists the keys there are.</exception>
    public Patch GetByKey(string key) => Patches.FirstOrDefault(p => Keys.Same(p.Key, key)) ?? throw Lacks(key);

    private ImpossibleValueException Lacks(string patch) =>
        new($"The strip layout '{Name}' has no patch '{patch}'; it has {string.Join(", ", Patches.Select(p => p.Key))}.");
}

/// <summary>One named field on a strip.</summary>
public sealed record Patch
{
    /// <exception cref="ImpossibleValueException">Key or name is empty, or the key has blanks.</exception>
    public Patch(string key, string name)
    {
        Key = Guard.Text(key, "The key of a patch");
        Name = Guard.Text(name, "The name of a patch");
        Guard.That(!Key.Any(char.IsWhiteSpace), $"The key of a patch has no blanks; '{Key}' has.");
    }

    /// <summary>The short word used in files and commands, such as <c>ld</c>.</summary>
    public string Key { get; }

    /// <summary>The trade's name, such as <c>LD</c>.</summary>
    public string Name { get; }
}
