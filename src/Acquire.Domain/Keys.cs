namespace Acquire.Domain;

/// <summary>Keys and codes that people type: lots, patches, processes. They are the same whatever the case.</summary>
public static class Keys
{
    public static bool Same(string? one, string? other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
