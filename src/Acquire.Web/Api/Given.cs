namespace Acquire.Web.Api;

/// <summary>What a body gives, looked at where types cannot: JSON can have null in a list.</summary>
internal static class Given
{
    /// <summary>The items of a list; none where there is no list.</summary>
    /// <exception cref="BadHttpRequestException">One is null.</exception>
    public static ImmutableArray<T> Items<T>(IReadOnlyList<T?>? list, string name)
        where T : class => list is null ? [] : [.. list.Select((item, i) => item ?? throw new BadHttpRequestException(
            string.Create(CultureInfo.InvariantCulture, $"The body has null at {name}[{i}]; leave it out or fill it in.")))];
}
