"""The plan store: workbooks and plans of many people, which is agreed, who said so and when."""
