namespace Acquire.Tests.House;

/// <summary>
/// No circles between the namespaces of a project: what a namespace knows lies under it, so that it can be read, tested and moved without
/// what uses it.
/// </summary>
public class NamespaceCircleTests
{
    public static TheoryData<string> Projects =>
        [.. Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(folder => Path.GetFileName(folder)!)];

    [Theory]
    [MemberData(nameof(Projects))]
    public void Namespaces_of_a_project_form_no_circles(string project)
    {
        var graph = NamespaceGraph.Of(
            Path.Combine(AppContext.BaseDirectory, project == "Acquire" ? "acquire.dll" : $"{project}.dll"), project);
        var circles = graph.Circles();
        Assert.True(circles.Count == 0, string.Join('\n', circles.Select(graph.Describe)));
    }

    [Fact]
    public void A_use_in_a_method_body_only_closes_a_circle()
    {
        var graph = NamespaceGraph.Of(typeof(NamespaceCircleTests).Assembly.Location, "Acquire.Tests.House.CircleSample");
        var circle = Assert.Single(graph.Circles());
        Assert.Equal(["Acquire.Tests.House.CircleSample.Left", "Acquire.Tests.House.CircleSample.Right"], circle);
        Assert.Contains("Right -> Acquire.Tests.House.CircleSample.Left: User uses Used", graph.Describe(circle), StringComparison.Ordinal);
    }
}
